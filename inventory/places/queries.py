"""Shops, rooms and places, as pages ask for them."""

from __future__ import annotations

from django.db.models import QuerySet

from inventory.places.models import Place, Room, Shop


def places_of(shop: Shop) -> QuerySet[Place]:
    """The places of a shop by name, with their rooms. 1 query; empty for a new shop."""
    return Place.objects.filter(shop=shop).select_related("room")


def rooms_of(shop: Shop) -> QuerySet[Room]:
    """The rooms of a shop by name. 1 query; empty for a new shop."""
    return Room.objects.filter(shop=shop)
