"""Who looked at what is private to a person, for that person and for the coordinator."""

from __future__ import annotations

from django.db.models import QuerySet

from inventory.places.models import Shop
from workshops.people.models import Look, Person


def looks_at(person: Person) -> QuerySet[Look]:
    """Who looked at the person's private facts, the latest first (one query); may be empty."""
    return Look.objects.filter(person=person)


def looks_in(shop: Shop) -> QuerySet[Look]:
    """Every look in the shop with the person, the latest first (one query); may be empty."""
    return Look.objects.filter(shop=shop).select_related("person")
