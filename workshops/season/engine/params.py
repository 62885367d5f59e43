"""How the outlook is computed, and what is assumed where the club has no nights to learn from."""

from __future__ import annotations

from dataclasses import dataclass

from workshops.season.engine import checks


@dataclass(frozen=True, slots=True)
class OutlookParams:
    """Settings of a run; every prior is wide and is told to the reader when it was needed.

    Parameters
    ----------
    winters
        Replicates, 100 to 1,000,000.
    batch
        Winters computed together; it fixes the random streams, ``workers`` never does.
    workers
        Threads, 1 to 64.
    leads
        How far a rack may run ahead of the one furthest behind before people are wanted
        elsewhere, as shares of the work left; each is tried in turn, then whoever is still
        free works on. Rising, more than 0.
    learning_cap
        The most that learning may multiply the rate from its reference, 1 to 10.
    rate_weight
        Pieces that the build sheet's minutes count for against the club's own tallies.
    learner_pace
        Rate of a learner beside a lead, as a share of the club's, 0.1 to 1, unless known.
    night_spread
        Coefficient of variation of one operation's rate from night to night, 0 to 1, until
        history tells.
    turnout_mean, turnout_weight
        Chance that a person comes, and the asked nights that this counts for.
    turnout_spread
        Coefficient of variation of the whole turnout from night to night, 0 to 1.
    lost_mean, lost_weight, scrap_mean, scrap_weight
        The same for lost nights and scrapped pieces.
    """

    winters: int = 10_000
    batch: int = 5_000
    workers: int = 1
    leads: tuple[float, ...] = (0.04, 0.16)
    learning_cap: float = 1.5
    rate_weight: float = 4.0
    learner_pace: float = 0.6
    night_spread: float = 0.25
    turnout_mean: float = 0.5
    turnout_weight: float = 2.0
    turnout_spread: float = 0.15
    lost_mean: float = 0.06
    lost_weight: float = 8.0
    scrap_mean: float = 0.04
    scrap_weight: float = 25.0

    def __post_init__(self) -> None:
        checks.in_range(self.winters, 100, 1_000_000, "winters")
        checks.in_range(self.batch, 100, 100_000, "batch")
        checks.in_range(self.workers, 1, 64, "workers")
        checks.each_in_range(self.leads, 0.001, 10, "leads")
        if not self.leads or list(self.leads) != sorted(self.leads):
            raise ValueError(f"leads must be at least one share, rising, not {self.leads}")
        checks.in_range(self.learning_cap, 1, 10, "learning_cap")
        checks.in_range(self.learner_pace, 0.1, 1, "learner_pace")
        checks.each_in_range((self.night_spread, self.turnout_spread), 0, 1, "spreads")
        means = (self.turnout_mean, self.lost_mean, self.scrap_mean)
        checks.each_in_range(means, 0.001, 0.999, "means")
        weights = (self.rate_weight, self.turnout_weight, self.lost_weight, self.scrap_weight)
        checks.each_in_range(weights, 0.1, 10_000, "weights")
