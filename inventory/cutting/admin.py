"""Cut lists and their ticks in the admin: to read, never to write."""

from __future__ import annotations

from django.contrib import admin

from inventory.cutting.models import CutListRun, CutTick
from inventory.places.readonly import ReadOnlyAdmin


@admin.register(CutListRun)
class CutListRunAdmin(ReadOnlyAdmin[CutListRun]):
    list_display = ["item", "shop", "made_at", "night_key", "status", "replaced_by"]
    list_filter = ["shop", "status"]
    list_select_related = ["item", "shop", "replaced_by__item"]


@admin.register(CutTick)
class CutTickAdmin(ReadOnlyAdmin[CutTick]):
    list_display = ["run", "shop", "pattern", "sticks", "how", "drop_number", "done_at", "done_by"]
    list_filter = ["shop", "how"]
    list_select_related = ["run__item", "shop", "done_by"]
