"""Clubs in the administration; their rules are set on the rules page, which checks them."""

from __future__ import annotations

from django.contrib import admin

from inventory.places.readonly import ReadOnlyAdmin
from workshops.club.models import Club, ClubRule


@admin.register(Club)
class ClubAdmin(admin.ModelAdmin[Club]):
    list_display = ["name", "shop", "contact"]


@admin.register(ClubRule)
class ClubRuleAdmin(ReadOnlyAdmin[ClubRule]):
    list_display = ["key", "shop", "value", "decided_by", "decided_on", "source"]
    list_filter = ["shop"]
