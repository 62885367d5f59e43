"""What the club's own nights teach: who comes, how fast work goes, what is scrapped or lost."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from workshops.season.engine.curves import Beta, Gamma, beta_by_moments
from workshops.season.engine.params import OutlookParams
from workshops.season.engine.problem import Operation, PastWork, Person, Problem

# Nights of history that a stated night-to-night spread counts for.
SPREAD_NIGHTS = 4.0


@dataclass(frozen=True, slots=True)
class Turnout:
    """One person's chances of coming, by what they answered."""

    unasked: Beta
    after_yes: Beta
    after_no: Beta


@dataclass(frozen=True, slots=True)
class Rate:
    """One operation: pieces per person-minute, its spread from night to night, scrapped share."""

    pieces_per_minute: Gamma
    spread: float
    scrap: Beta


@dataclass(frozen=True, slots=True)
class Beliefs:
    """Everything learned, and in words whatever had to be assumed instead."""

    turnout: dict[str, Turnout]
    turnout_spread: float
    lost: Beta
    rates: dict[str, Rate]
    assumptions: tuple[str, ...]


def beliefs_of(problem: Problem, params: OutlookParams) -> Beliefs:
    """Learn from the problem's history; where it is silent, keep the stated wide prior."""
    work = work_by_operation(problem)
    rates = {o.id: rate_of(o, work.get(o.id, []), params) for o in problem.operations}
    lost = sum(not night.held for night in problem.history)
    return Beliefs(
        turnout=turnout_of(problem.people, params),
        turnout_spread=turnout_spread(problem, params),
        lost=Beta.of(params.lost_mean, params.lost_weight).updated(lost, len(problem.history)),
        rates=rates,
        assumptions=tuple(_assumptions(problem, params, work)),
    )


def work_by_operation(problem: Problem) -> dict[str, list[PastWork]]:
    """Past nights' work by operation, oldest first, without rows that took no time."""
    found: dict[str, list[PastWork]] = {}
    for night in sorted(problem.history, key=lambda night: night.date):
        for work in night.work:
            if work.person_minutes > 0:
                found.setdefault(work.operation, []).append(work)
    return found


def turnout_of(people: Sequence[Person], params: OutlookParams) -> dict[str, Turnout]:
    """Each person's own counts, shrunk to what the club's people are like.

    An answer with no history behind it moves the chance to the club's experience with such
    answers, and without any of that to 9 in 10 for a yes and 1 in 20 for a no.
    """
    people = sorted(people, key=lambda person: person.id)  # sums must not hang on their order
    weight = params.turnout_weight
    club = beta_by_moments(
        [p.came for p in people], [p.asked for p in people], mean=params.turnout_mean, weight=weight
    )
    yes = beta_by_moments(
        [p.came_after_yes for p in people], [p.said_yes for p in people], mean=0.9, weight=10.0
    )
    no = beta_by_moments(
        [p.came_after_no for p in people], [p.said_no for p in people], mean=0.05, weight=20.0
    )
    return {
        person.id: Turnout(
            unasked=club.updated(person.came, person.asked),
            after_yes=yes.updated(person.came_after_yes, person.said_yes),
            after_no=no.updated(person.came_after_no, person.said_no),
        )
        for person in people
    }


def turnout_spread(problem: Problem, params: OutlookParams) -> float:
    """How much the whole turnout swings beyond what independent people would, as a CV."""
    nights = sorted(problem.history, key=lambda night: night.date)
    held = [night for night in nights if night.held and night.asked > 0]
    asked = sum(night.asked for night in held)
    if not asked:
        return params.turnout_spread
    share = sum(night.came for night in held) / asked
    # Negative where nights are steadier than independent people would be: taken as nought.
    beyond = sum(
        (n.came - n.asked * share) ** 2 - n.asked * share * (1.0 - share) for n in held
    ) / max(sum((n.asked * share) ** 2 for n in held), 1e-9)
    return _shrunk(beyond, nights=len(held), stated=params.turnout_spread)


def rate_of(operation: Operation, work: Sequence[PastWork], params: OutlookParams) -> Rate:
    """The rate, its spread and the scrapped share of one operation.

    Notes
    -----
    The gamma-Poisson update takes pieces as independent. Nights differ by more than that, so
    pieces and minutes are both divided by the variance-to-mean ratio that the spread implies:
    the mean stays, the certainty becomes honest.
    """
    prior = Gamma(params.rate_weight, params.rate_weight * operation.minutes)
    pieces = sum(w.good + w.scrapped for w in work)
    minutes = sum(w.person_minutes for w in work)
    # The spread is learned first: it says how much each tally may be trusted.
    spread = night_spread(work, stated=params.night_spread)
    excess = max(1.0, spread**2 * pieces / len(work)) if work else 1.0
    scrap = Beta.of(params.scrap_mean, params.scrap_weight)
    return Rate(
        pieces_per_minute=prior.updated(pieces / excess, minutes / excess),
        spread=spread,
        scrap=scrap.updated(sum(w.scrapped for w in work), pieces),
    )


def night_spread(work: Sequence[PastWork], *, stated: float) -> float:
    """Coefficient of variation of one operation's night rate about its own mean.

    All of the variation seen, that of single pieces included: the simulated night adds none.
    """
    pieces = sum(w.good + w.scrapped for w in work)
    if len(work) < 2 or not pieces:
        return stated
    rate = pieces / sum(w.person_minutes for w in work)
    expected = [rate * w.person_minutes for w in work]
    squares = sum((w.good + w.scrapped - e) ** 2 for w, e in zip(work, expected, strict=True))
    squared = squares / sum(e * e for e in expected) * len(work) / (len(work) - 1)
    return _shrunk(squared, nights=len(work) - 1, stated=stated)


def _shrunk(squared: float, *, nights: int, stated: float) -> float:
    """A CV between the one seen (given squared) and the one stated, by nights of evidence."""
    mixed = SPREAD_NIGHTS * stated**2 + nights * max(squared, 0.0)
    return float(min((mixed / (SPREAD_NIGHTS + nights)) ** 0.5, 1.0))


def _assumptions(
    problem: Problem, params: OutlookParams, work: dict[str, list[PastWork]]
) -> list[str]:
    told = []
    if not problem.history and any(night.chance_lost is None for night in problem.nights):
        told.append(f"{params.lost_mean:.0%} of nights are lost, as no past nights are known.")
    if problem.people and not any(person.asked for person in problem.people):
        told.append(
            f"each person comes on {params.turnout_mean:.0%} of nights, give or take a lot, as "
            "nobody's attendance is known yet."
        )
    unknown = [o.title for o in problem.operations if o.id not in work]
    if unknown:
        told.append(
            f"the build sheet's minutes hold within about a half, and {params.scrap_mean:.0%} is "
            f"scrapped, as no tally is known for {', '.join(unknown)}."
        )
    if not problem.ice:
        told.append("nothing about the ice, as no ice-out dates are given.")
    return told
