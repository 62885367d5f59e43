"""A needs plan in plain sentences."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from inventory.needs.engine.plan import Buy, NeedsPlan, Possible, RunsOut


def sentences(plan: NeedsPlan) -> tuple[str, ...]:
    """Sets possible now, what stops us first, what to buy by when."""
    said = [_mix(plan)] if plan.problem.variants else ["No sets are wanted."]
    if len(plan.possible) > 1:  # with one variant the mix has said it already
        said += [_alone(line) for line in plan.possible]
    said += [_first(plan.stops_first)] if plan.stops_first else ["Nothing runs out."]
    said += [_buy(line) for line in plan.buy]
    return tuple(said)


def _mix(plan: NeedsPlan) -> str:
    mix, wanted = plan.mix, sum(variant.wanted for variant in plan.problem.variants)
    parts = ", ".join(f"{count} x {key}" for key, count in mix.parts.items())
    said = f"{mix.sets} of {wanted} wanted sets are possible now, {mix.finished} of them finished"
    said += f" ({parts})" if len(mix.parts) > 1 else ""
    if len(plan.possible) > 1:
        lacking = (f"one more {key} lacks {_listed(lacks)}" for key, lacks in mix.blocked.items())
        said = "; ".join([said, *lacking])
    elif mix.stopped_by:
        said += f"; the next one lacks {_listed(mix.stopped_by)}"
    return f"{said}{'' if mix.is_exact else '; a better cut list might give more'}."


def _alone(line: Possible) -> str:
    lacks = f"; the next lacks {_listed(line.stopped_by)}" if line.stopped_by else ""
    return f"With all parts put into {line.variant}: {line.sets}{lacks}."


def _first(line: RunsOut) -> str:
    said = f"With the usual scrap, {line.item} runs out first, after {line.after_sets} sets"
    if line.on_night is None:
        return f"{said}; no planned night gets that far."
    return f"{said}, on the night of {line.on_night}."


def _buy(line: Buy) -> str:
    said = f"Buy {line.quantity} {line.item} ({line.short} short)"
    said += f" from {line.supplier}" if line.supplier else ""
    if line.is_gone:
        return f"{said}: it cannot be had any more this season; look for another."
    if line.order_by is None:
        return f"{said}; no planned night needs it yet."
    late = ", which has passed" if line.is_late else ""
    once = "; there is only this chance" if line.is_one_chance else ""
    return f"{said}; order by {line.order_by}{late}{once}."


def _listed(keys: tuple[str, ...]) -> str:
    return keys[0] if len(keys) == 1 else f"{', '.join(keys[:-1])} and {keys[-1]}"
