"""What the winter wants and the nights to come, as the needs and the cut lists ask for them."""

from __future__ import annotations

from datetime import date

from django.db.models import Sum

from inventory.ledger.queries import made_by_night
from inventory.materials.models import Item
from inventory.places.models import Shop
from workshops.nights.models import Night
from workshops.nights.queries import nights_of
from workshops.season.models import Target


def wanted_sets(shop: Shop, today: date) -> dict[int, int]:
    """Sets wanted by the winter in course or to come, by item; empty without a target. 1 query."""
    targets = Target.objects.filter(winter__shop=shop, winter__ends_on__gte=today)
    sums = targets.order_by("item").values_list("item")
    rows = sums.annotate(new=Sum("new"), again=Sum("replacements"), spare=Sum("spares"))
    return {item: new + again + spare for item, new, again, spare in rows}


def usual_sets(shop: Shop) -> int:
    """Sets finished on a usual night: the mean of those that finished any; 1 before any did.

    1 query.
    """
    # Nights without a finished set are steel nights, which say nothing about the pace.
    made = made_by_night(shop, Item.Kind.SET)
    return max(1, round(sum(made.values()) / len(made))) if made else 1


def nights_ahead(shop: Shop, today: date, sets: int) -> list[tuple[date, int]]:
    """The planned nights from today on, each with the sets finished on one. 1 query."""
    nights = nights_of(shop).filter(date__gte=today, status=Night.Status.PLANNED)
    return [(day, sets) for day in nights.order_by("date").values_list("date", flat=True)]
