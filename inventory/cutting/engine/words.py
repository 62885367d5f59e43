"""A cut list in plain sentences."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from inventory.measures.lengths import MICROMETRES_PER_FOOT, Units, spell_length

if TYPE_CHECKING:
    from inventory.cutting.engine.plan import CutPlan, Missing


def sentences(plan: CutPlan, units: Units) -> tuple[str, ...]:
    """What is missing, what is taken and put back, how sure that is, what it saves."""
    said = [_missing(part, units) for part in plan.missing]
    if plan.missing:
        metal = spell_far(plan.metal_missing, units)
        said.append(f"{metal} of metal is missing in all, a saw cut for each piece included.")
    if not plan.runs:
        return (*said, "Nothing is cut.")
    said.append(_taken(plan))
    said.append(_back(plan, units))
    said.append(_proof(plan))
    # one kind of piece has nothing to be mixed with
    is_mixed = sum(piece.count > 0 for piece in plan.problem.pieces) > 1
    if plan.set_by_set is not None and is_mixed and not plan.missing:
        said.append(_against_sets(plan, units))
    return tuple(said)


def _missing(part: Missing, units: Units) -> str:
    pieces = f"{part.count} × {part.piece} ({spell_length(part.length, units)})"
    if part.is_too_long:
        return f"{pieces} cannot be cut: every stick here is too short for it."
    return f"{pieces} cannot be cut: the sticks run out."


def _taken(plan: CutPlan) -> str:
    out = ", ".join(f"{count} × {label}" for label, count in plan.sticks_out.items())
    changes = plan.stop_changes
    settings = "setting" if changes == 1 else "settings"
    return f"Take {out}; {changes} {settings} of the stop block."


def _back(plan: CutPlan, units: Units) -> str:
    scrap = f"{spell_far(plan.scrap, units)} becomes chips and scrap"
    if not plan.drops:
        return f"Nothing goes back to the rack; {scrap}."
    # lengths that read alike are one line to whoever writes them on the steel
    kept = Counter[str]()
    for drop in plan.drops:
        kept[spell_length(drop.length, units)] += drop.count
    drops = ", ".join(f"{count} × {length}" for length, count in kept.items())
    return f"Back to the rack: {drops}; {scrap}."


def _proof(plan: CutPlan) -> str:
    if plan.is_proven:
        return "No plan for these pieces uses less: proven."
    return f"At most {plan.gap:.2%} more than the best there can be; not proven to be the best."


def _against_sets(plan: CutPlan, units: Units) -> str:
    by_hand = plan.set_by_set
    assert by_hand is not None
    sticks, metal = by_hand.sticks, spell_far(by_hand.metal, units)
    if by_hand.cost <= plan.cost:
        word = "stick" if sticks == 1 else "sticks"
        return f"Cutting set by set takes {sticks} {word} too: mixing patterns saves nothing."
    # told in metal even where money decided: metal is what people see lying there
    told = f"Cutting set by set would take {sticks} sticks, {metal} of metal; "
    saved = by_hand.metal - plan.metal_out
    if saved <= 0:
        return f"{told}this list takes {plan.stick_count} and leaves drops worth more than that."
    return f"{told}this list takes {plan.stick_count}, {spell_far(saved, units)} less."


def spell_far(micrometres: int, units: Units) -> str:
    """Metal by the stick: ``120 ft``, ``9 ft 8 in``; as any length below a foot or in metres."""
    feet, rest = divmod(micrometres, MICROMETRES_PER_FOOT)
    if units is not Units.INCH or not feet:
        return spell_length(micrometres, units)
    return f"{feet} ft {spell_length(rest, units)}" if rest else f"{feet} ft"
