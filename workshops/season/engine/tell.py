"""From the tallies of all batches to the outlook: quantiles, shares, dates."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from workshops.season.engine import score
from workshops.season.engine.gaps import gaps_of
from workshops.season.engine.plan import (
    Band,
    Chance,
    DateChance,
    ItemShort,
    NightOutlook,
    Outlook,
    StationShare,
    VariantOutlook,
)
from workshops.season.engine.problem import Problem
from workshops.season.engine.shop import Shop
from workshops.season.engine.streams import Step, Streams
from workshops.season.engine.trials import draw_day
from workshops.season.engine.winter import Tally

LEVELS = (0.025, 0.10, 0.25, 0.50, 0.75, 0.90, 0.975)


@dataclass(frozen=True, slots=True)
class Run:
    """How the tallies came about."""

    seed: int
    sizes: tuple[int, ...]  # winters in each batch, in order
    seconds: float


def told(shop: Shop, tallies: Sequence[Tally], run: Run) -> Outlook:
    """The outlook that the tallies add up to."""
    problem, whole = shop.problem, joined(tallies)
    dates = [tonight.night.date for tonight in shop.nights]
    reached = np.full_like(whole.reached, -1) if _is_reached(problem) else whole.reached
    by_night = [int((reached == index).sum()) for index in range(len(dates))]
    winters = reached.size
    return Outlook(
        target=problem.target,
        finished_now=problem.finished,
        nights=tuple(_night(shop, whole, index, reached) for index in range(len(dates))),
        variants=_variants(problem, shop.wanted_sets, whole),
        at_end=band(whole.ends.sum(axis=0) if whole.ends.size else np.zeros(winters, np.int32)),
        chance_of_target=chance(reached < len(dates)),
        by_date=_by_date(problem, dates, reached),
        before_ice=_before_ice(problem, dates, reached, run),
        finish={day: count / winters for day, count in zip(dates, by_night, strict=True)},
        median_finish=_median_finish(dates, reached),
        slowest=_shares(problem, whole.slowest.sum(axis=0), int(whole.held.sum())),
        short=_short(problem, whole.short, winters),
        lost_nights=len(dates) - float(whole.held.sum()) / winters,
        made=tuple(sorted(problem.made, key=lambda made: made.date)),
        ready_by=problem.ready_by,
        ice=tuple(sorted(problem.ice, key=lambda ice: ice.date)),
        gaps=gaps_of(problem),
        assumptions=shop.beliefs.assumptions,
        winters=winters,
        winters_asked=shop.params.winters,
        seed=run.seed,
        seconds=run.seconds,
    )


def joined(tallies: Sequence[Tally]) -> Tally:
    """One tally of all the batches, in their order."""
    return Tally(
        finished=np.concatenate([t.finished for t in tallies], axis=1),
        ends=np.concatenate([t.ends for t in tallies], axis=1),
        reached=np.concatenate([t.reached for t in tallies]),
        held=np.sum([t.held for t in tallies], axis=0),
        people=np.sum([t.people for t in tallies], axis=0),
        pieces=np.sum([t.pieces for t in tallies], axis=0),
        slowest=np.sum([t.slowest for t in tallies], axis=0),
        short=np.sum([t.short for t in tallies], axis=0),
    )


def band(counts: NDArray[np.int32]) -> Band:
    """The band of whole counts; the ends are counts that occurred, never between two."""
    ends = np.quantile(counts, LEVELS, method="inverted_cdf")
    low_95, low_80, low_50, median, high_50, high_80, high_95 = (int(end) for end in ends)
    mean = float(np.mean(counts, dtype=np.float64))
    return Band(low_95, low_80, low_50, median, high_50, high_80, high_95, mean)


def chance(happened: NDArray[np.bool_]) -> Chance:
    """The share of winters in which it happened, with Wilson's interval for so many winters."""
    yes = int(happened.sum())
    low, high = score.wilson(yes, happened.size)
    return Chance(yes / happened.size, low, high)


def _is_reached(problem: Problem) -> bool:
    if problem.total_target is not None:
        return problem.finished >= problem.total_target
    return all(variant.finished >= variant.target for variant in problem.variants)


def _night(shop: Shop, whole: Tally, index: int, reached: NDArray[np.int16]) -> NightOutlook:
    night, held = shop.nights[index].night, int(whole.held[index])
    operations = zip(shop.problem.operations, whole.pieces[index] / reached.size, strict=True)
    return NightOutlook(
        date=night.date,
        kind=night.kind,
        chance_lost=1.0 - held / reached.size,
        people=float(whole.people[index]) / max(held, 1),
        finished=band(whole.finished[index]),
        chance_of_target=chance(reached <= index),
        slowest=_shares(shop.problem, whole.slowest[index], held),
        pieces={operation.id: float(pieces) for operation, pieces in operations},
    )


def _shares(problem: Problem, counts: NDArray[np.int64], held: int) -> tuple[StationShare, ...]:
    found = [
        StationShare(station.id, station.title, float(count) / held)
        for station, count in zip(problem.stations, counts, strict=True)
        if count
    ]
    return tuple(sorted(found, key=lambda share: (-share.share, share.station)))


def _variants(
    problem: Problem, wanted: tuple[int, ...], whole: Tally
) -> tuple[VariantOutlook, ...]:
    return tuple(
        VariantOutlook(variant.id, variant.title, sets, band(ends), chance(ends >= sets))
        for variant, sets, ends in zip(problem.variants, wanted, whole.ends, strict=True)
    )


def _by_date(
    problem: Problem, dates: list[str], reached: NDArray[np.int16]
) -> tuple[DateChance, ...]:
    if problem.ready_by is None:
        return ()
    wanted = {problem.ready_by.early: "early", problem.ready_by.late: "late"}
    if len(wanted) == 1:
        wanted = {problem.ready_by.late: "ready by"}
    nights = {day: sum(night <= day for night in dates) for day in wanted}
    return tuple(
        DateChance(day, label, chance(reached < nights[day])) for day, label in wanted.items()
    )


def _before_ice(
    problem: Problem, dates: list[str], reached: NDArray[np.int16], run: Run
) -> Chance | None:
    """The target's night against an ice date drawn for each winter; the day itself is too late."""
    if not problem.ice:
        return None
    days = sorted(problem.ice, key=lambda ice: ice.date)
    weights = np.array([ice.weight for ice in days])
    nights = np.array([sum(night < ice.date for night in dates) for ice in days])
    # Drawn here and not in the winters: the ice stops nothing, it only judges what was done.
    drawn = [
        draw_day(Streams(run.seed, batch, size).of(Step.ICE), weights, size)
        for batch, size in enumerate(run.sizes)
    ]
    return chance(reached < nights[np.concatenate(drawn)])


def _median_finish(dates: list[str], reached: NDArray[np.int16]) -> str | None:
    # An index, not a date: "never" sorts after the last night and must not be averaged in.
    middle = int(np.quantile(reached, 0.5, method="inverted_cdf"))
    return dates[middle] if 0 <= middle < len(dates) else None


def _short(problem: Problem, counts: NDArray[np.int64], winters: int) -> tuple[ItemShort, ...]:
    found = [
        ItemShort(item.id, item.title, float(count) / winters)
        for item, count in zip(problem.items, counts, strict=True)
        if count
    ]
    return tuple(sorted(found, key=lambda short: (-short.share, short.item)))
