"""The cut-off of a stocktake: what is still open on the day of the count, and what to do."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db.models import Count, F, Q
from django.urls import reverse

from inventory.deliveries.expected import expected
from inventory.ledger.models import Balance
from inventory.materials.models import Item
from inventory.places.models import Shop
from inventory.stocktake.queries import places_with_stock
from workshops.nights import clock
from workshops.nights.models import Night
from workshops.nights.queries import nights_of

LOOKED_BACK = timedelta(days=21)
STANDING = Q(tallies__undoes=None, tallies__undone_by=None)


@dataclass(frozen=True, slots=True)
class Notice:
    """One thing that is still open, what to do about it, and where."""

    says: str
    do: str
    url: str = ""
    to: str = ""

    def as_row(self) -> dict[str, str]:
        """How it is kept with the stocktake."""
        return {"says": self.says, "do": self.do}


def cut_off_of(shop: Shop, now: datetime, counted: Collection[int] = ()) -> list[Notice]:
    """Nights, orders, half-made parts and places left out, as of now. 4 queries.

    ``counted`` are the places of the stocktake; an empty shop has nothing open.
    """
    return [*_nights(shop, now), *_orders(shop, now), *_half_made(shop), *_places(shop, counted)]


def _nights(shop: Shop, now: datetime) -> Iterator[Notice]:
    """Nights that were held and are not in the book yet."""
    today = clock.today_in(shop, now).date()
    nights = nights_of(shop).exclude(status=Night.Status.CANCELLED)
    nights = nights.filter(date__range=(today - LOOKED_BACK, today))
    for night in nights.annotate(tallied=Count("tallies", filter=STANDING, distinct=True)):
        day = f"{night.date:%A} {night.date.day} {night.date:%B}"
        if not night.tallied:
            yield Notice(
                f"The night of {day} has no tally.",
                "Enter it before you count, or what it used shows as a difference. Entered "
                "later, it still counts as before.",
                reverse("counting:tally", args=[shop.slug, night.date]),
                "Enter the tally",
            )
        elif night.status != Night.Status.CLOSED:
            yield Notice(
                f"The night of {day} is tallied and not closed.",
                "Ask whether more is to come, then close it.",
                reverse("lockup:close", args=[shop.slug, night.date]),
                "Close the night",
            )


def _orders(shop: Shop, now: datetime) -> Iterator[Notice]:
    """What may stand at the door and not be in the book."""
    today = clock.today_in(shop, now).date()
    for order in dict.fromkeys(coming.order for coming in expected(shop)):
        due = order.expected_on
        if due and due > today:
            continue
        yield Notice(
            f"{order} is under way" + (f", expected {due.day} {due:%B}." if due else "."),
            "If it stands at the door, write the goods-in first; else leave it out of the count.",
            reverse("stock:goods_in", args=[shop.slug]),
            "Goods in",
        )


def _half_made(shop: Shop) -> Iterator[Notice]:
    """Parts on the rack by the book: those lying at the stations are easily missed."""
    rows = Balance.objects.filter(item__shop=shop, item__kind=Item.Kind.RACK, quantity__gt=0)
    away = rows.exclude(place=F("item__home")).values("item").distinct().count()
    if away:
        kinds = "1 kind of half-made part lies" if away == 1 else f"{away} half-made parts lie"
        yield Notice(
            f"By the book, {kinds} elsewhere than where they are kept.",
            "Carry them home or count them where they lie. A piece that is started and not "
            "tallied counts as what it was before.",
        )


def _places(shop: Shop, counted: Collection[int]) -> Iterator[Notice]:
    """Loaded trucks, trailers and lofts are places: what is not counted is named."""
    places = list(places_with_stock(shop).order_by("name"))
    left = ", ".join(place.name for place in places if place.pk not in counted)
    if places:
        yield Notice(
            f"Not counted this time, and something lies there: {left}."
            if left else "Is a truck or a trailer loaded?",
            "What stands loaded has a place of its own to be counted at, or is written as set "
            "out before the count: never half of each.",
        )  # fmt: skip
