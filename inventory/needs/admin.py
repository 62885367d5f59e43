"""The kept answers in the admin: to read, never to write."""

from __future__ import annotations

from typing import Any

from django.contrib import admin
from django.http import HttpRequest

from inventory.needs.models import NeedsRun


@admin.register(NeedsRun)
class NeedsRunAdmin(admin.ModelAdmin[NeedsRun]):
    """What was asked and answered, newest first."""

    list_display = ["made_at", "shop", "status", "seconds", "made_by"]
    list_filter = ["shop"]
    ordering = ["-made_at"]

    def has_add_permission(self, request: HttpRequest) -> bool:  # noqa: ARG002
        """Never."""
        return False

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:  # noqa: ARG002
        """Never."""
        return False

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:  # noqa: ARG002
        """Never."""
        return False
