"""The kept answers in the admin: to read, never to write."""

from __future__ import annotations

from django.contrib import admin

from inventory.needs.models import NeedsRun
from inventory.places.readonly import ReadOnlyAdmin


@admin.register(NeedsRun)
class NeedsRunAdmin(ReadOnlyAdmin[NeedsRun]):
    """What was asked and answered, newest first."""

    list_display = ["made_at", "shop", "status", "seconds", "made_by"]
    list_filter = ["shop"]
    ordering = ["-made_at"]
