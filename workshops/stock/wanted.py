"""What the winter wants and the nights to come, as the needs and the cut lists ask for them."""

from __future__ import annotations

from datetime import date

from inventory.ledger.queries import made_by_night, on_hand
from inventory.materials.models import Item
from inventory.materials.queries import sets_of
from inventory.places.models import Shop
from workshops.nights.models import Night
from workshops.nights.queries import nights_of
from workshops.season.queries import still_wanted


def wanted_sets(shop: Shop, today: date) -> dict[int, int]:
    """Sets the winter still wants and those that stand here finished, by item. 5 queries.

    The needs count finished sets as met, so what went out to the marsh is left out on both
    sides. Empty without a target.
    """
    still = still_wanted(shop, today)
    kinds = sets_of(shop).filter(pk__in=still)
    return {row.item.pk: still[row.item.pk] + int(row.good) for row in on_hand(shop, list(kinds))}


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
