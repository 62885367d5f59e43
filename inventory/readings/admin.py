"""Readings in the admin, to look at: the log is corrected on the site and never rewritten."""

from __future__ import annotations

from django.contrib import admin

from inventory.places.readonly import ReadOnlyAdmin
from inventory.readings.models import Reading


@admin.register(Reading)
class ReadingAdmin(ReadOnlyAdmin[Reading]):
    """Readings by shop, newest first."""

    list_display = ["probed_at", "shop", "item", "place", "lot", "temperature", "moisture_percent"]
    list_filter = ["shop"]
    search_fields = ["item__name", "lot", "note"]
    list_select_related = ["shop", "item", "place"]
