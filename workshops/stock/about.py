"""What the page of an item says of its own kind: steel, fill, supplies, the rack, a set."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from inventory.ledger.models import Balance
from inventory.ledger.queries import OnHand
from inventory.materials.models import Item, Recipe, RecipeLine
from workshops.stations.geometry.changes import spell_section
from workshops.stations.models import Operation
from workshops.stations.translate import section_of
from workshops.stock.cut_over.queries import drawn_by, old_ones, rework_of
from workshops.stock.filling import fill_facts
from workshops.stock.lying import racks_of, words_of
from workshops.stock.weighing import weight_of


@dataclass(frozen=True, slots=True)
class Steps:
    """The operation that makes a thing, and those that take it on."""

    made_by: Operation | None
    taken_by: tuple[Operation, ...]


def about(
    there: OnHand,
    *,
    balances: Sequence[Balance],
    recipe: Recipe | None,
    uses: Sequence[RecipeLine],
) -> dict[str, Any]:
    """What the templates show of the item's kind. At most 5 queries."""
    item = there.item
    if item.kind == Item.Kind.METAL:
        parts = {use.length_um for use in uses}
        return {
            "weight": weight_of(there), "racks": racks_of(item, balances, parts),
            "section": section_words(item), "words": words_of(item),
            "is_roll": item.shape == Item.Shape.WIRE_MESH,
        }  # fmt: skip
    if item.kind == Item.Kind.FILL:
        return {"fill": fill_facts(item, there.good + there.hold, uses)}
    if item.kind in (Item.Kind.RACK, Item.Kind.SET):
        return {
            "steps": _steps(recipe, uses), "drawn_by": drawn_by(item),
            "old": old_ones(item.shop, [item.pk]),
            "rework": rework_of(item) if there.hold else [],
        }  # fmt: skip
    return {}


def section_words(item: Item) -> str:
    """The section with its wall to the thousandth; what is known of it when it is half said."""
    try:
        return spell_section(section_of(item), item.shop.length_units)
    except ValueError:
        return str(item.get_shape_display())


def packs_of(there: OnHand) -> str:
    """``about 3 × box of 100``: the packs the good ones come to; empty where it says nothing."""
    item = there.item
    if not item.pack_name or item.pack_size <= 1 or there.good < item.pack_size:
        return ""
    packs = int(there.good // item.pack_size)
    unit = "" if item.unit == "each" else f" {item.unit}"
    return f"about {packs} × {item.pack_name} of {item.pack_size}{unit}"


def _steps(recipe: Recipe | None, uses: Sequence[RecipeLine]) -> Steps:
    numbers = [line.recipe_id for line in uses] + ([recipe.pk] if recipe else [])
    found = Operation.objects.filter(recipe__in=numbers, is_in_use=True)
    rows = list(found.select_related("station", "recipe__output"))
    made = next((row for row in rows if recipe and row.recipe_id == recipe.pk), None)
    return Steps(made, tuple(row for row in rows if row is not made))
