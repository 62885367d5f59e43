"""Cut lists and their ticks in the admin: to read, never to write."""

from __future__ import annotations

from typing import Any

from django.contrib import admin
from django.http import HttpRequest

from inventory.cutting.models import CutListRun, CutTick


class ReadingOnly(admin.ModelAdmin[Any]):
    """Nothing is changed here: a tick without its entry in the book would be a lie."""

    def has_add_permission(self, request: HttpRequest) -> bool:  # noqa: ARG002
        """Never."""
        return False

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:  # noqa: ARG002
        """Never."""
        return False

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:  # noqa: ARG002
        """Never."""
        return False


@admin.register(CutListRun)
class CutListRunAdmin(ReadingOnly):
    list_display = ["item", "shop", "made_at", "night_key", "status", "replaced_by"]
    list_filter = ["shop", "status"]
    list_select_related = ["item", "shop", "replaced_by__item"]


@admin.register(CutTick)
class CutTickAdmin(ReadingOnly):
    list_display = ["run", "shop", "pattern", "sticks", "how", "drop_number", "done_at", "done_by"]
    list_filter = ["shop", "how"]
    list_select_related = ["run__item", "shop", "done_by"]
