"""Cut-overs as they were decided, and what of the old is still to be used up or reworked."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Max, Prefetch, Q, QuerySet

from inventory.ledger.models import Line
from inventory.ledger.refusals import plain
from inventory.materials.models import Item, RecipeLine
from inventory.places.models import Shop
from workshops.stations.models import BuildSheet
from workshops.stock.models import CutOver, CutOverLine

NOTHING = Decimal()
_LEFT = (Line.Account.USED, Line.Account.SCRAP)


@dataclass(frozen=True, slots=True)
class Old:
    """What of one item is still by the drawing before, as far as the book can tell.

    The old ones go first, as the cards say: so many as left the shelves since the cut-over
    are taken to have been old ones.
    """

    item: Item
    before: BuildSheet
    sheet: BuildSheet
    left: Decimal

    def __str__(self) -> str:
        return f"Use up first: {plain(self.left)} {self.item} by rev {self.before.revision}"


def cut_overs_of(sheet: BuildSheet) -> QuerySet[CutOver]:
    """What was decided when this drawing came into force, latest first. 2 queries."""
    lines = CutOverLine.objects.select_related("item__shop", "place")
    rows = CutOver.objects.filter(sheet=sheet).select_related("by", "before", "sheet")
    return rows.prefetch_related(Prefetch("lines", lines))


def changed_sheets(shop: Shop) -> list[BuildSheet]:
    """Drawings in force that took the place of another, latest first. 2 queries."""
    old = BuildSheet.objects.filter(shop=shop, status=BuildSheet.Status.SUPERSEDED)
    numbers = set(old.exclude(drawn=None).values_list("drawing_number", flat=True))
    rows = BuildSheet.objects.filter(
        shop=shop, status=BuildSheet.Status.IN_FORCE, drawing_number__in=numbers
    )
    decided = rows.annotate(decided_at=Max("cut_overs__at"))
    return list(decided.order_by("-in_force_from", "drawing_number"))


def old_ones(shop: Shop, items: Collection[int] | None = None) -> list[Old]:
    """What is to be used up first, of these items or of all. 2 queries; 1 where there is none."""
    lines = CutOverLine.objects.filter(cut_over__shop=shop, use_up__gt=0)
    if items is not None:
        lines = lines.filter(item__in=items)
    latest = _latest(lines.select_related("item__shop", "cut_over__before", "cut_over__sheet"))
    gone = _gone_since(latest)
    found = []
    for item, rows in latest.items():
        left = sum((row.use_up for row in rows), NOTHING) - gone.get(item, NOTHING)
        if left > 0:
            found.append(Old(rows[0].item, rows[0].cut_over.before, rows[0].cut_over.sheet, left))
    return found


def use_first_by_recipe(shop: Shop) -> dict[int, list[str]]:
    """What each recipe in use takes first, in words; empty when nothing old is left.

    1 query then, else 3.
    """
    old = {each.item.pk: each for each in old_ones(shop)}
    if not old:
        return {}
    found: dict[int, list[str]] = defaultdict(list)
    lines = RecipeLine.objects.filter(item__in=old, recipe__is_in_use=True)
    for recipe, item in lines.values_list("recipe", "item"):
        found[recipe].append(f"{old[item]}.")
    return found


def rework_of(item: Item) -> list[CutOverLine]:
    """Where the item is on hold to be reworked to a newer drawing. 1 query."""
    rows = item.cut_over_lines.filter(rework__gt=0, item__balances__condition="hold")
    still = rows.filter(item__balances__quantity__gt=0).distinct()
    return list(still.select_related("cut_over__sheet", "place"))


def drawn_by(item: Item) -> list[BuildSheet]:
    """The drawings in force that have the item as a part, or make it. 1 query."""
    has_it = Q(sheet_parts__part__item=item) | Q(set_item=item)
    rows = BuildSheet.objects.filter(
        has_it, shop_id=item.shop_id, status=BuildSheet.Status.IN_FORCE
    )
    return list(rows.distinct().order_by("drawing_number"))


def _latest(lines: Iterable[CutOverLine]) -> dict[int, list[CutOverLine]]:
    """The lines of each item's last cut-over: what was decided before it is overtaken."""
    by_item: dict[int, list[CutOverLine]] = defaultdict(list)
    for line in lines:
        by_item[line.item_id].append(line)
    for item, rows in by_item.items():
        last = max(rows, key=lambda row: (row.cut_over.at, row.cut_over_id)).cut_over_id
        by_item[item] = [row for row in rows if row.cut_over_id == last]
    return by_item


def _gone_since(latest: dict[int, list[CutOverLine]]) -> dict[int, Decimal]:
    """How many of each item were used, thrown away or went out since its cut-over."""
    if not latest:
        return {}
    since = {item: rows[0].cut_over.last_entry for item, rows in latest.items()}
    lines = Line.objects.filter(
        Q(account__in=_LEFT) | Q(account=Line.Account.OUTSIDE, quantity__gt=0),
        item__in=since,
        entry__gt=min(since.values()),
    )
    gone: dict[int, Decimal] = defaultdict(Decimal)
    for item, quantity, entry in lines.values_list("item", "quantity", "entry"):
        if entry > since[item]:
            gone[item] += quantity
    return gone
