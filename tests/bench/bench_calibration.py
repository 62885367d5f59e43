"""How good is the outlook: its bands against synthetic winters played event by event.

``python3 manage.py bench calibration`` plays 200 winters, asks each at four moments, and
prints how often the bands held, how wide they were, and the score beside a straight line.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np
from numpy.typing import NDArray

from tests.bench import synthetic
from tests.bench.synthetic import NIGHTS, Seen
from workshops.season.engine import learn, shop, winter
from workshops.season.engine.params import OutlookParams
from workshops.season.engine.score import crps, crps_gaussian
from workshops.season.engine.streams import Streams
from workshops.season.engine.tell import LEVELS

CLUBS = 200
DRAWS = 500  # winters in each outlook
MOMENTS = {"20 %": 5, "40 %": 10, "60 %": 14, "80 %": 19}  # nights over, of 24
BANDS = {50: (2, 4), 80: (1, 5), 95: (0, 6)}  # the ends' places in LEVELS

Row = tuple[str, str, str]


@dataclass(frozen=True)
class Scored:
    """One outlook of one night to come, beside what came."""

    moment: str
    night: int
    came: int
    ends: tuple[float, ...]
    mean: float
    score: float
    line: float  # the straight line's score with its band
    point: float  # and as a single number

    def holds(self, percent: int) -> bool:
        """Whether that band held what came."""
        low, high = BANDS[percent]
        return self.ends[low] <= self.came <= self.ends[high]

    def width(self, percent: int) -> float:
        """Sets from one end of the band to the other."""
        low, high = BANDS[percent]
        return self.ends[high] - self.ends[low]


def run() -> list[Row]:
    """The study, in rows: what, measured, to reach."""
    scored = study(CLUBS)
    rows: list[Row] = []
    for moment in MOMENTS:
        rows += _told([s for s in scored if s.moment == moment and s.night == NIGHTS - 1], moment)
    rows += _told([s for s in scored if s.night == NIGHTS - 1], "all four")
    for week in range(3, NIGHTS // 2 + 1):
        there = [s for s in scored if s.night // 2 + 1 == week]
        rows.append((f"bands of week {week} ({len(there)})", _coverage(there), "-"))
    return rows


def study(clubs: int, *, draws: int = DRAWS, first: int = 0) -> list[Scored]:
    """Every outlook of that many clubs; every second one has a winter behind it."""
    before, now = synthetic.shops()
    scored: list[Scored] = []
    for club in range(first, first + clubs):
        dice = np.random.default_rng([20, club])
        truth = synthetic.truth_of(dice)
        last_winter = synthetic.play(before, truth, dice) if club % 2 else []
        seen = synthetic.play(now, truth, dice)
        ask = partial(_asked, seen, last_winter, draws=draws, seed=club)
        for moment in MOMENTS:
            scored += ask(moment)
    return scored


def _asked(
    seen: Sequence[Seen], last_winter: Sequence[Seen], moment: str, *, draws: int, seed: int
) -> list[Scored]:
    over, params = MOMENTS[moment], OutlookParams(winters=draws)
    problem = synthetic.asked_after(seen, last_winter, over)
    laid_out = shop.laid_out(problem, learn.beliefs_of(problem, params), params)
    drawn = winter.run(laid_out, Streams(seed, 0, draws)).finished
    sets = [sum(row.sets) for row in seen]
    return [
        _scored(moment, night, drawn[night - over], sets, over=over)
        for night in range(over, NIGHTS)
    ]


def _scored(
    moment: str, night: int, drawn: NDArray[np.int32], sets: list[int], *, over: int
) -> Scored:
    came = sets[night]
    ends = np.quantile(drawn, LEVELS, method="inverted_cdf")
    mean, sd = straight_line(sets[:over], night + 1 - over)
    return Scored(
        moment, night, came, tuple(float(end) for end in ends), float(drawn.mean()),
        crps(drawn.astype(np.float64), came), crps_gaussian(mean, sd, came), abs(mean - came),
    )  # fmt: skip


def straight_line(sets: Sequence[int], ahead: int) -> tuple[float, float]:
    """Sets so far a night, carried on: mean and standard deviation after ``ahead`` more nights.

    The spread is that of the nights so far, once for the nights to come and once for not
    knowing the slope: what a careful person with a ruler would draw.
    """
    steps = np.diff([0, *sets])
    spread = max(float(steps.std(ddof=1)), 0.5)
    mean = sets[-1] + float(steps.mean()) * ahead
    return mean, spread * float(np.sqrt(ahead + ahead**2 / steps.size))


def gain(scored: Sequence[Scored], *, point: bool = False) -> float:
    """By what share the outlook's mean score is below the straight line's."""
    line = sum(s.point if point else s.line for s in scored)
    return 1.0 - sum(s.score for s in scored) / line


def share(scored: Sequence[Scored], percent: int) -> float:
    """How often the band held what came."""
    return sum(s.holds(percent) for s in scored) / len(scored)


def _coverage(scored: Sequence[Scored]) -> str:
    return ", ".join(f"{percent} %: {share(scored, percent):.1%}" for percent in BANDS)


def _told(scored: Sequence[Scored], moment: str) -> list[Row]:
    came = np.array([s.came for s in scored])
    widths = ", ".join(f"{p} %: {np.mean([s.width(p) for s in scored]):.0f}" for p in BANDS)
    apart = np.mean([s.mean for s in scored] - came)
    return [
        (f"asked at {moment}, bands hold", _coverage(scored), "44-56 %, 75-85 %, -"),
        (f"asked at {moment}, mean width in sets", f"{widths} (of {came.mean():.0f})", "-"),
        (f"asked at {moment}, bias", f"{apart:+.1f} sets ({apart / came.mean():+.1%})", "-"),
        (
            f"asked at {moment}, CRPS",
            f"{np.mean([s.score for s in scored]):.2f} sets, {gain(scored):.0%} below the "
            f"straight line with a band, {gain(scored, point=True):.0%} below its point",
            "30 % below",
        ),
    ]
