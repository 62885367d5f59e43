"""Shops, rooms and places in the admin."""

from __future__ import annotations

from django.contrib import admin

from inventory.places.models import Place, Room, Shop


@admin.register(Shop)
class ShopAdmin(admin.ModelAdmin[Shop]):
    """Shops and how they measure."""

    list_display = ["name", "time_zone", "units", "paper_size"]
    prepopulated_fields = {"slug": ["name"]}


@admin.register(Room)
class RoomAdmin(admin.ModelAdmin[Room]):
    """Rooms by shop."""

    list_display = ["name", "shop"]
    list_filter = ["shop"]


@admin.register(Place)
class PlaceAdmin(admin.ModelAdmin[Place]):
    """Places by shop and room."""

    list_display = ["name", "shop", "room", "note"]
    list_filter = ["shop"]
