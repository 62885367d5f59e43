"""The needs in plain sentences, with items, units and dates as a person says them."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from inventory.ledger.refusals import plain
from inventory.materials.models import Item

if TYPE_CHECKING:
    from inventory.needs.answer import Needs, RunningOut, SetsPossible, ToBuy


def sentences(needs: Needs) -> tuple[str, ...]:
    """What is possible now, what stops us first, what to buy by when."""
    said = [_mix(needs.mix)] if needs.mix.wanted else ["No sets are wanted yet."]
    if len(needs.variants) > 1:
        said += [_alone(line) for line in needs.variants]
    if needs.mix.wanted:
        said.append(_first(needs.stops_first) if needs.stops_first else _nothing(needs))
    return (*said, *(_buy(line) for line in needs.buy))


def _mix(mix: SetsPossible) -> str:
    said = f"{mix.sets} of the {mix.wanted} wanted sets are possible now"
    said += f", {mix.finished} of them finished" if mix.finished else ""
    if len(mix.parts) > 1:
        said += f" ({', '.join(f'{count} × {item}' for item, count in mix.parts)})"
    if len(mix.blocked) > 1:
        lacking = (f"one more {item} lacks {_listed(lacks)}" for item, lacks in mix.blocked)
        said = "; ".join([said, *lacking])
    elif mix.stopped_by:
        said += f"; the next one lacks {_listed(mix.stopped_by)}"
    return f"{said}{'' if mix.is_exact else '; a better cut list might give more'}."


def _alone(line: SetsPossible) -> str:
    lacks = f"; the next lacks {_listed(line.stopped_by)}" if line.stopped_by else ""
    return f"With everything put into {line.item}: {line.sets}{lacks}."


def _first(line: RunningOut) -> str:
    said = f"{line.item} runs out first, after {line.after_sets} more sets"
    if line.on_night is None:
        return f"{said}; no planned night gets that far."
    return f"{said}, on the night of {spelled_day(line.on_night)}."


def _nothing(needs: Needs) -> str:
    if needs.runs_out:
        return "What is on order comes in time: nothing runs out."
    return "Nothing runs out."


def _buy(line: ToBuy) -> str:
    unit = "" if line.unit == "each" else f" ({line.unit})"
    said = f"Buy {plain(line.quantity)} × {line.item}{unit}"
    said += f" from {line.item.supplier}" if line.item.supplier else ""
    if line.is_gone:
        return f"{said}: it cannot be had any more this season; look for another."
    if line.order_by is None:
        return f"{said}; no planned night needs it yet."
    once = "; there is only this chance" if line.is_one_chance else ""
    if line.is_late:
        return f"{said}; it should have been ordered by {spelled_day(line.order_by)}{once}."
    return f"{said}; order by {spelled_day(line.order_by)}{once}."


def spelled_day(day: date) -> str:
    """``14 January``: the weekday is on the page beside it."""
    return f"{day.day} {day:%B}"


def _listed(items: Sequence[Item]) -> str:
    names = [item.name for item in items]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
