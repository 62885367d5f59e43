"""What lies there by the drawing before, in which places, and what it goes together with."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from inventory.ledger.models import Balance, Entry, Line
from inventory.materials.models import Item, Recipe
from inventory.materials.queries import explode, recipes_in_use
from inventory.places.models import Place
from workshops.club.queries import Rules, rules_of
from workshops.stations.geometry.changes import SheetChanges, changes_between, is_same_part
from workshops.stations.geometry.matching import matching
from workshops.stations.geometry.sheet import Sheet
from workshops.stations.models import BuildSheet
from workshops.stations.queries import limits_of, sheet_of
from workshops.stock.cut_over.affected import Why, affected, recipes_to_mend
from workshops.stock.cut_over.fates import Lying, Mates


@dataclass(frozen=True, slots=True)
class Before:
    """A drawing in force, the one before it, what changed, and all that lies by the old one."""

    sheet: BuildSheet
    before: BuildSheet
    changes: SheetChanges
    mates: Mates | None
    lying: tuple[Lying, ...]
    to_mend: tuple[str, ...]


def superseded_by(sheet: BuildSheet) -> BuildSheet | None:
    """The revision that was in force before this one; ``None`` for a first. 1 query."""
    family = BuildSheet.objects.filter(
        shop_id=sheet.shop_id, drawing_number=sheet.drawing_number, drawn__isnull=False,
        status=BuildSheet.Status.SUPERSEDED,
    )  # fmt: skip
    earlier = family.exclude(pk=sheet.pk).select_related("shop")
    return earlier.order_by("in_force_from", "pk").last()


def look_before(sheet: BuildSheet) -> Before | None:
    """What lies by the drawing before this one; ``None`` when there was none.

    8 queries, whatever lies there.

    Raises
    ------
    SheetRefused
        When one of the two cannot be drawn.
    """
    before = superseded_by(sheet) if sheet.status == BuildSheet.Status.IN_FORCE else None
    if before is None:
        return None
    old, new, shop = sheet_of(before), sheet_of(sheet), sheet.shop
    rules, recipes = rules_of(shop), recipes_in_use(shop)
    changes = changes_between(old, new, shop.length_units)
    items = {item.slug: item for item in Item.objects.filter(shop=shop).select_related("shop")}
    others = _other_sheets(sheet)
    why = affected(sheet.set_item, old, changes, recipes, items)
    mates = _mates(old, new, rules, others)
    return Before(
        sheet, before, changes, mates,
        lying=tuple(_lying(sheet, why, mates, old, recipes=recipes, items=items, others=others)),
        to_mend=tuple(recipes_to_mend(new, changes, recipes, items)),
    )  # fmt: skip


def _other_sheets(sheet: BuildSheet) -> list[Sheet]:
    rows = BuildSheet.objects.filter(
        shop_id=sheet.shop_id, status=BuildSheet.Status.IN_FORCE, drawn__isnull=False
    )
    return [sheet_of(row) for row in rows.exclude(pk=sheet.pk)]


def _lying(
    sheet: BuildSheet,
    why: Why,
    mates: Mates | None,
    old: Sheet,
    *,
    recipes: Mapping[int, Recipe],
    items: Mapping[str, Item],
    others: list[Sheet],
) -> list[Lying]:
    rows = Balance.objects.filter(item__in=list(why), quantity__gt=0)
    rows = rows.select_related("item__shop", "place").order_by(
        "item__name", "place__name", "condition"
    )
    since = _made_since(sheet, list(why))
    found = []
    for row in rows:
        inner, outer = _holds(row.item_id, mates, recipes, items)
        found.append(Lying(
            row.item, row.place, row.condition, row.quantity, _state(row), why[row.item_id],
            inner, outer, _still_on(row.item.slug, old, others), since.get(row.item_id, Decimal()),
        ))  # fmt: skip
    return found


def _holds(
    item: int, mates: Mates | None, recipes: Mapping[int, Recipe], items: Mapping[str, Item]
) -> tuple[int, int]:
    """How many stems and posts of the old drawing one of the item has in it."""
    if mates is None:
        return 0, 0
    inside = explode(recipes, {item: 1}).quantities
    sides = (items.get(mates.matching.inner), items.get(mates.matching.outer))
    inner, outer = (int(inside.get(side.pk, 0)) if side else 0 for side in sides)
    return inner, outer


def _state(row: Balance) -> str:
    """In the words of the shop: finished or half-made, here or away."""
    if is_away(row.place):
        return "away from the benches"
    return "complete" if row.item.kind == Item.Kind.SET else "on the rack"


def is_away(place: Place) -> bool:
    """Whether a place lies outside the rooms: the yard, a truck, the landing."""
    return place.room_id is None


def _still_on(slug: str, old: Sheet, others: list[Sheet]) -> tuple[str, ...]:
    """Other drawings in force that still ask for the part as it was."""
    mine = next((part for part in old.parts if part.item == slug), None)
    if mine is None:
        return ()
    return tuple(
        f"{sheet.drawing_number} rev {sheet.revision}"
        for sheet in others
        if any(part.item == slug and is_same_part(part, mine) for part in sheet.parts)
    )


def _made_since(sheet: BuildSheet, items: list[int]) -> dict[int, Decimal]:
    """How many were made after the new drawing came into force: maybe to the new one."""
    lines = Line.objects.filter(
        item__in=items, account=Line.Account.SHELF, quantity__gt=0,
        entry__shop_id=sheet.shop_id, entry__kind=Entry.Kind.MADE, entry__at__gt=sheet.changed_at,
    )  # fmt: skip
    found: dict[int, Decimal] = {}
    for item, quantity in lines.values_list("item", "quantity"):
        found[item] = found.get(item, Decimal()) + quantity
    return found


def _mates(old: Sheet, new: Sheet, rules: Rules, others: list[Sheet]) -> Mates | None:
    match = matching(old, new, limits_of(rules))
    if match is None or not match.must_stay_paired:
        return None
    return Mates(
        match, old.part(match.inner).name, old.part(match.outer).name,
        inner_elsewhere=bool(_still_on(match.inner, old, others)),
        outer_elsewhere=bool(_still_on(match.outer, old, others)),
    )  # fmt: skip
