"""Says an outlook in plain sentences that a committee can read aloud."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

if TYPE_CHECKING:  # the plan asks this module for its sentences
    from workshops.season.engine.plan import Chance, Outlook


WHICH = {"early": ", the early end of the ready-by,", "late": ", the late end,", "ready by": ","}


MOST_NAMED = 4  # things that work waits for in one sentence
SELDOM = 0.05  # a share of winters below which waiting is not told


def of(outlook: Outlook) -> list[str]:
    """Every sentence that has something to say, the most important first."""
    first, *rest = told(outlook)
    assumed = [f"Assumed, not learned: {text}" for text in outlook.assumptions]
    return [first, *outlook.gaps, *rest, *assumed]


def told(outlook: Outlook) -> list[str]:
    """The same without gaps and assumptions, for a page that shows those apart."""
    found = [_target(outlook), _band(outlook), *_dates(outlook), *_ice(outlook)]
    found += [*_finish(outlook), *_slowest(outlook), *_short(outlook), *_lost(outlook)]
    return [*found, *_variants(outlook), *_early_stop(outlook)]


def in_ten(share: float) -> str:
    """A share as people say it: "7 winters in 10", never a false certainty."""
    if share <= 0.0:
        return "no winter of those tried"
    if share < 0.05:
        return "fewer than 1 winter in 20"
    if share >= 1.0:
        return "every winter tried"
    if share > 0.95:
        return "more than 19 winters in 20"
    tenths = max(1, min(9, round(share * 10)))
    return f"about {tenths} winter{'s' if tenths > 1 else ''} in 10"


def percent(share: float) -> str:
    """A share in whole per cent, "under 1 %" and "over 99 %" at the ends."""
    if 0.0 < share < 0.01:
        return "under 1 %"
    if 0.99 < share < 1.0:
        return "over 99 %"
    return f"{round(share * 100)} %"


def day(text: str) -> str:
    """A date as it is spoken: "Tue 12 January 2027"."""
    when = date.fromisoformat(text)
    return f"{when:%a} {when.day} {when:%B %Y}"


def _target(outlook: Outlook) -> str:
    if outlook.finished_now >= outlook.target:
        return f"The target of {outlook.target} sets is reached: {outlook.finished_now} are made."
    if not outlook.nights:
        missing = outlook.target - outlook.finished_now
        return f"No nights are left, and {missing} of {outlook.target} sets are not made."
    return (
        f"The target of {outlook.target} sets is reached by the last night in "
        f"{in_ten(outlook.chance_of_target.share)} ({_chance(outlook.chance_of_target)})."
    )


def _band(outlook: Outlook) -> str:
    band = outlook.at_end
    return (
        f"{outlook.finished_now} sets are finished now; {band.median} is the middle for the "
        f"end, between {band.low_80} and {band.high_80} in 8 winters of 10 and between "
        f"{band.low_95} and {band.high_95} in 19 of 20."
    )


def _dates(outlook: Outlook) -> list[str]:
    return [
        f"By {day(entry.date)}{WHICH[entry.label]} the target is reached in "
        f"{_chance(entry.chance)} of winters."
        for entry in outlook.by_date
    ]


def _ice(outlook: Outlook) -> list[str]:
    if outlook.before_ice is None:
        return []
    return [
        f"The target is reached before the ice goes in {_chance(outlook.before_ice)} of winters."
    ]


def _finish(outlook: Outlook) -> list[str]:
    if outlook.median_finish is None or outlook.finished_now >= outlook.target:
        return []
    return [f"Half of all winters have the target by {day(outlook.median_finish)}."]


def _slowest(outlook: Outlook) -> list[str]:
    if not outlook.slowest:
        return []
    first = outlook.slowest[0]
    told = f"The slowest station is {first.title}: it holds things up on {percent(first.share)}"
    others = [f"{s.title} {percent(s.share)}" for s in outlook.slowest[1:3] if s.share >= 0.05]
    return [told + " of the nights held" + (f" (then {', '.join(others)})." if others else ".")]


def _short(outlook: Outlook) -> list[str]:
    waits = [f"{s.title} ({percent(s.share)})" for s in outlook.short if s.share >= SELDOM]
    if not waits:
        return []
    waits[0] = waits[0].replace(" %)", " % of winters)")
    named = waits[:MOST_NAMED]
    if len(waits) > MOST_NAMED:
        named.append(f"{len(waits) - MOST_NAMED} more")
    return [f"Work waits at some time for {joined(named)}."]


def joined(names: Sequence[str]) -> str:
    """Names in a row: ``wire, straw and hay``."""
    *but_last, last = names
    return f"{', '.join(but_last)} and {last}" if but_last else last


def _lost(outlook: Outlook) -> list[str]:
    if not outlook.nights:
        return []
    return [f"On average {outlook.lost_nights:.1f} of the {len(outlook.nights)} nights are lost."]


def _variants(outlook: Outlook) -> list[str]:
    if len(outlook.variants) < 2:
        return []
    return [
        f"{v.title}: {v.finished.median} of {v.target} at the end "
        f"({v.finished.low_80} to {v.finished.high_80} in 8 winters of 10)."
        for v in outlook.variants
    ]


def _early_stop(outlook: Outlook) -> list[str]:
    if outlook.is_complete:
        return []
    return [f"The time was up after {outlook.winters} of {outlook.winters_asked} winters."]


def _chance(chance: Chance) -> str:
    return percent(chance.share)
