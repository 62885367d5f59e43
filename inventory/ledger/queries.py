"""What lies where, what moved, and (from ``checking``) whether the balances agree."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Exists, F, OuterRef, Q, QuerySet, Sum
from django.db.models.functions import Coalesce

from inventory.ledger.checking import THOUSANDTHS, Difference, check
from inventory.ledger.models import Balance, Condition, Entry, GoodsIn, Line
from inventory.materials.models import Item
from inventory.places.models import Place, Shop

__all__ = [
    "THOUSANDTHS",
    "Difference",
    "OfLength",
    "OnHand",
    "balance_of",
    "balances_at",
    "balances_of",
    "below_level",
    "check",
    "entries_of_night",
    "entry_of",
    "made_by_night",
    "movements",
    "on_hand",
    "on_hand_of",
    "pieces_of",
    "shortfalls",
    "sources_of",
]


@dataclass(frozen=True, slots=True)
class OfLength:
    """How many pieces of one length there are."""

    length_um: int
    good: Decimal
    hold: Decimal


@dataclass(frozen=True, slots=True)
class OnHand:
    """One item and what there is of it in the whole shop."""

    item: Item
    good: Decimal
    hold: Decimal
    lengths: tuple[OfLength, ...]

    @property
    def metal_um(self) -> int:
        """All good pieces laid end to end, micrometres; 0 when it is not held by length."""
        return sum(int(part.good) * part.length_um for part in self.lengths)


def on_hand(shop: Shop, items: Sequence[Item] | None = None) -> tuple[OnHand, ...]:
    """Every item of the shop with what there is of it, by name. 2 queries.

    Given ``items``, only those, in their order. 1 query.
    """
    # Emptied places keep their row, which the next goods-in finds again.
    balances = Balance.objects.filter(item__shop=shop, quantity__gt=0)
    if items is None:
        items = tuple(Item.objects.filter(shop=shop).select_related("home", "shop"))
    else:
        balances = balances.filter(item__in=[item.pk for item in items])
    rows: dict[int, list[Balance]] = defaultdict(list)
    # Longest first, as one looks through a rack.
    for row in balances.order_by("-length_um"):
        rows[row.item_id].append(row)
    return tuple(_on_hand(item, rows[item.pk]) for item in items)


def on_hand_of(item: Item) -> OnHand:
    """What there is of one item. 1 query."""
    return _on_hand(item, list(item.balances.filter(quantity__gt=0).order_by("-length_um")))


def balances_of(item: Item) -> QuerySet[Balance]:
    """Where the item lies: by place, condition and length. 1 query; empty when there is none."""
    rows = item.balances.filter(quantity__gt=0).select_related("place")
    return rows.order_by("condition", "-length_um", "place__name")


def balances_at(place: Place) -> QuerySet[Balance]:
    """What lies in a place, by item. 1 query; empty for an empty place."""
    rows = place.balances.filter(quantity__gt=0).select_related("item")
    return rows.order_by("item__name", "condition", "-length_um")


def balance_of(item: Item) -> Decimal:
    """How many good ones there are in the shop; pieces of any length for metal. 1 query."""
    return on_hand_of(item).good


def pieces_of(item: Item) -> list[tuple[int, int]]:
    """Good pieces as (length, count), longest first. 1 query; empty when there are none."""
    return [(part.length_um, int(part.good)) for part in on_hand_of(item).lengths if part.good]


def movements(
    shop: Shop, *, item: Item | None = None, place: Place | None = None, night_key: str = ""
) -> QuerySet[Line]:
    """Lines that changed a shelf, last written first, with entry, item and place. 1 query."""
    # Asked line by line, newest first: a join would gather and sort the shop's whole book
    # to show its last leaf.
    of_shop = Exists(Entry.objects.filter(pk=OuterRef("entry_id"), shop=shop))
    lines = Line.objects.filter(of_shop, account=Line.Account.SHELF)
    if item is not None:
        lines = lines.filter(item=item)
    if place is not None:
        lines = lines.filter(place=place)
    if night_key:
        # As a list of entries: joined, a night long ago is looked for through the whole book.
        of_night = Entry.objects.filter(shop=shop, night_key=night_key)
        lines = lines.filter(entry__in=of_night.order_by().values("pk"))
    # By number and not by time: the next leaf is found without counting the ones before.
    return lines.select_related("entry", "entry__by", "item", "place").order_by("-pk")


def entries_of_night(shop: Shop, night_key: str) -> QuerySet[Entry]:
    """What was written for a night, first written first, with lines. 2 queries."""
    entries = Entry.objects.filter(shop=shop, night_key=night_key)
    return entries.select_related("by").prefetch_related("lines__item").order_by("pk")


def shortfalls(shop: Shop, night_key: str) -> QuerySet[Line]:
    """What that night's making took beyond what was booked. 1 query; empty when all was there."""
    return Line.objects.filter(
        entry__shop=shop,
        entry__night_key=night_key,
        entry__kind=Entry.Kind.MADE,
        entry__correction__isnull=True,
        account=Line.Account.DIFFERENCE,
        quantity__lt=0,
    ).select_related("item", "entry")


def below_level(shop: Shop) -> QuerySet[Item]:
    """Items of which fewer good ones are left than are always to be kept. 1 query."""
    good = Coalesce(
        Sum("balances__quantity", filter=Q(balances__condition=Condition.GOOD)), Decimal()
    )
    items = Item.objects.filter(shop=shop, keep_at_least__gt=0).annotate(good=good)
    return items.filter(good__lt=F("keep_at_least")).order_by("name")


def made_by_night(shop: Shop, kind: str) -> dict[str, Decimal]:
    """Good things of a kind made on each shop night, by its key. 1 query.

    Tallies that were taken back do not count; empty before the first night.
    """
    lines = Line.objects.filter(
        entry__shop=shop,
        entry__kind=Entry.Kind.MADE,
        entry__correction__isnull=True,
        account=Line.Account.SHELF,
        condition=Condition.GOOD,
        item__kind=kind,
        quantity__gt=0,
    ).exclude(entry__night_key="")
    rows = lines.order_by("entry__night_key").values_list("entry__night_key")
    return dict(rows.annotate(made=Sum("quantity")))


def entry_of(shop: Shop, pk: int) -> Entry | None:
    """One entry with its lines, items and places; ``None`` in another shop. 2 queries."""
    entries = Entry.objects.filter(shop=shop)
    entries = entries.select_related("by", "corrects", "correction", "goods_in")
    return entries.prefetch_related("lines__item", "lines__place").filter(pk=pk).first()


def sources_of(shop: Shop) -> list[str]:
    """Suppliers and donors as they were written before, by name. 1 query."""
    names = GoodsIn.objects.filter(entry__shop=shop).order_by("source")
    return list(names.values_list("source", flat=True).distinct())


def _on_hand(item: Item, rows: Sequence[Balance]) -> OnHand:
    by_length: dict[int, dict[str, Decimal]] = {}
    for row in rows:
        sums = by_length.setdefault(row.length_um, defaultdict(Decimal))
        sums[row.condition] += row.quantity
    lengths = tuple(
        OfLength(length, sums[Condition.GOOD], sums[Condition.HOLD])
        for length, sums in by_length.items()
    )
    good = sum((part.good for part in lengths), Decimal())
    held = sum((part.hold for part in lengths), Decimal())
    return OnHand(item, good, held, lengths if item.is_by_length else ())
