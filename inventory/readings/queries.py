"""What was read of each lot, and the whole log."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta
from decimal import Decimal

from django.db.models import Exists, F, OuterRef, Q, QuerySet, Window
from django.db.models.functions import RowNumber

from inventory.ledger.models import Balance
from inventory.materials.models import Item
from inventory.places.models import Place, Shop
from inventory.readings.models import Reading

LATEST = 16  # readings of a lot that are looked at: two rounds of eight spots
ROUND = timedelta(hours=1)  # spots of one stack that are probed one after the other


@dataclass(frozen=True, slots=True)
class Lot:
    """One stack of one kind of fill in one place, with its latest readings, newest first."""

    item: Item
    place: Place
    words: str
    readings: tuple[Reading, ...]

    @property
    def key(self) -> str:
        """The lot as a form names it."""
        return f"{self.item.pk}:{self.place.pk}:{self.words}"

    @property
    def last(self) -> Reading | None:
        """The last time that anything was read; ``None`` when it never was."""
        return self.readings[0] if self.readings else None

    @property
    def warmest(self) -> Reading | None:
        """The warmest spot of the last round: the other spots do not make it cooler."""
        return _warmest(self._last_round())

    @property
    def warmest_before(self) -> Reading | None:
        """The warmest spot of the round before, to tell which way it goes."""
        warm = self._warm()
        return _warmest(_round(warm[len(self._last_round()) :]))

    @property
    def dampest(self) -> Reading | None:
        """The dampest spot of the last round in which moisture was read."""
        damp = [each for each in self.readings if each.moisture_percent is not None]
        found = _round(damp)
        return max(found, key=lambda each: each.moisture_percent or Decimal()) if found else None

    def _warm(self) -> list[Reading]:
        return [each for each in self.readings if each.temperature is not None]

    def _last_round(self) -> list[Reading]:
        return _round(self._warm())


def _round(newest_first: Sequence[Reading]) -> list[Reading]:
    if not newest_first:
        return []
    start = newest_first[0].probed_at - ROUND
    return [each for each in newest_first if each.probed_at >= start]


def _warmest(readings: Sequence[Reading]) -> Reading | None:
    return max(readings, key=lambda each: each.temperature_f or Decimal(), default=None)


def counting(shop: Shop) -> QuerySet[Reading]:
    """Readings that count: not corrected, and no correction that only takes one back."""
    says = Q(temperature__isnull=False) | Q(moisture_percent__isnull=False)
    return Reading.objects.filter(says, shop=shop, correction__isnull=True)


def probed_lots(shop: Shop) -> list[Lot]:
    """Every lot that was probed and of which something still lies there. 1 query."""
    lies = Balance.objects.filter(
        item=OuterRef("item_id"), place=OuterRef("place_id"), quantity__gt=0
    )
    newest = Window(
        RowNumber(),
        partition_by=[F("item_id"), F("place_id"), F("lot")],
        order_by=[F("probed_at").desc(), F("pk").desc()],
    )
    # Numbered in the database: a log of ten winters is not carried into the page.
    rows = counting(shop).filter(Exists(lies)).annotate(newest=newest).filter(newest__lte=LATEST)
    found: dict[tuple[int, int, str], list[Reading]] = defaultdict(list)
    for row in rows.select_related("item__shop", "place").order_by("-probed_at", "-pk"):
        found[row.item_id, row.place_id, row.lot].append(row)
    return [
        Lot(rows_[0].item, rows_[0].place, words, tuple(rows_))
        for (_, _, words), rows_ in found.items()
    ]


def lots_of(shop: Shop) -> list[Lot]:
    """Every lot of straw and hay that lies somewhere, also those never probed. 2 queries."""
    probed = probed_lots(shop)
    seen = {(lot.item.pk, lot.place.pk) for lot in probed}
    spots = Balance.objects.filter(item__shop=shop, item__kind=Item.Kind.FILL, quantity__gt=0)
    spots = spots.select_related("item__shop", "place").order_by("item__name", "place__name")
    never = {
        (spot.item_id, spot.place_id): Lot(spot.item, spot.place, "", ())
        for spot in spots if (spot.item_id, spot.place_id) not in seen
    }  # fmt: skip
    return [*probed, *never.values()]


def log_of(shop: Shop, before: int | None = None) -> QuerySet[Reading]:
    """Everything that was written down, newest first, corrected readings too. 1 query."""
    rows = Reading.objects.filter(shop=shop)
    if before is not None:
        rows = rows.filter(pk__lt=before)
    related = rows.select_related("item", "place", "by", "corrects", "correction")
    return related.order_by("-pk")


def reading_of(shop: Shop, pk: int) -> Reading | None:
    """One reading; ``None`` in another shop. 1 query."""
    return log_of(shop).filter(pk=pk).first()
