"""Balances and wanted pieces into a cutting problem, a cut plan into a row."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from decimal import ROUND_HALF_UP, Decimal

from inventory.cutting.ahead import Wanted, sentences
from inventory.cutting.engine.plan import CutPlan
from inventory.cutting.engine.problem import CutProblem, Piece, Stick
from inventory.cutting.models import CutListRun
from inventory.engines.models import EngineRun
from inventory.materials.models import Item
from inventory.measures.lengths import Units, spell_length

VERSION = "1"
# A drop is worth half its length until it is used: at more, lists leave a drop on every stick
# where one more piece would have fitted, and drops pile up in the rack.
KEEP_PERCENT = 50

CENT = Decimal("0.01")


def problem_of(
    item: Item,
    pieces: Iterable[Wanted],
    rack: Iterable[tuple[int, int]],
    *,
    per_set: Mapping[str, int] | None = None,
    kerf_um: int | None = None,
) -> CutProblem:
    """The problem for one material: pieces of one name and length are taken together.

    ``kerf_um`` is what one cut takes on this list, 0 at the shear; ``None`` for the item's own.

    Raises
    ------
    ValueError
        From the engine, naming the value that makes no sense.
    """
    units = item.shop.length_units
    shares = per_set or {}
    kerf = item.kerf_um if kerf_um is None else kerf_um
    return CutProblem(
        pieces=tuple(
            Piece(label, length, count, shares.get(label, 0))
            for (label, length), count in _labelled(pieces, units).items()
        ),
        sticks=_sticks(item, rack, units),
        kerf=kerf,
        # The blade is part of what is trimmed, so a trim below the kerf is the kerf.
        trim=max(item.trim_um, kerf) if item.trim_um else 0,
        # A club that wrote nothing down keeps every remnant; the ledger counts it so too.
        keep_length=max(item.keep_um, 1),
        keep_percent=KEEP_PERCENT,
        material=item.name,
    )


def row_of(plan: CutPlan, item: Item, seed: int, *, ready: Sequence[Wanted] = ()) -> CutListRun:
    """The plan as an unsaved row, explained in the shop's units; ``ready`` needs no cutting."""
    units = item.shop.length_units
    told = plan.to_json() | {
        "explanation": [*sentences(ready, units), *plan.explain(units), *saved_money(plan, item)],
        "ahead": [{"piece": p, "length": um, "count": count} for p, um, count in ready],
    }
    return CutListRun(
        shop=item.shop,
        item=item,
        problem=plan.problem.to_json(),
        seed=seed,
        version=VERSION,
        status=_status(plan),
        result=told,
        objective=plan.cost,
        bound=plan.bound,
        seconds=plan.seconds,
    )


def saved_money(plan: CutPlan, item: Item) -> list[str]:
    """What mixed patterns save in money, when the price of a stick is known."""
    by_hand = plan.set_by_set
    if by_hand is None or plan.missing or not item.unit_price or not item.bought_length_um:
        return []
    saved = by_hand.metal - plan.metal_out
    if saved <= 0:
        return []
    price = Decimal(saved) * item.unit_price / item.bought_length_um
    money = f"{price.quantize(CENT, ROUND_HALF_UP)} {item.shop.currency}"
    return [f"At {item.unit_price} {item.shop.currency} a stick that is {money} of metal."]


def _labelled(pieces: Iterable[Wanted], units: Units) -> Counter[tuple[str, int]]:
    """Pieces added up; a name with two lengths gets the length behind it."""
    counts = Counter[tuple[str, int]]()
    for label, length, count in pieces:
        counts[label.strip(), length] += count
    names = Counter(label for label, _ in counts)
    told = Counter[tuple[str, int]]()
    for (label, length), count in counts.items():
        longer = f"{label}, {spell_length(length, units)}" if names[label] > 1 else label
        told[longer, length] += count
    return told


def _sticks(item: Item, rack: Iterable[tuple[int, int]], units: Units) -> tuple[Stick, ...]:
    """One kind of stick for each length that lies in the rack, shorter ones being drops."""
    sticks: list[Stick] = []
    used: set[str] = set()
    for length, count in sorted(rack, reverse=True):
        is_drop = item.bought_length_um is not None and length < item.bought_length_um
        label = f"{spell_length(length, units)} {'drop' if is_drop else 'stick'}"
        # two lengths may read alike to the nearest fraction
        label = label if label not in used else f"{label} ({length / 1000:.3f} mm)"
        used.add(label)
        sticks.append(Stick(label, length, count, is_drop=is_drop))
    return tuple(sticks)


def _status(plan: CutPlan) -> str:
    if plan.missing:
        return EngineRun.Status.IMPOSSIBLE
    return EngineRun.Status.PROVEN if plan.is_proven else EngineRun.Status.FOUND
