"""Readings in the admin, to look at: the log is corrected on the site and never rewritten."""

from __future__ import annotations

from django.contrib import admin
from django.http import HttpRequest

from inventory.readings.models import Reading


@admin.register(Reading)
class ReadingAdmin(admin.ModelAdmin[Reading]):
    """Readings by shop, newest first."""

    list_display = ["probed_at", "shop", "item", "place", "lot", "temperature", "moisture_percent"]
    list_filter = ["shop"]
    search_fields = ["item__name", "lot", "note"]
    list_select_related = ["shop", "item", "place"]

    def has_add_permission(self, request: HttpRequest) -> bool:  # noqa: ARG002
        """Nobody: readings are taken on the site."""
        return False

    def has_change_permission(self, request: HttpRequest, obj: Reading | None = None) -> bool:  # noqa: ARG002
        """Nobody."""
        return False

    def has_delete_permission(self, request: HttpRequest, obj: Reading | None = None) -> bool:  # noqa: ARG002
        """Nobody."""
        return False
