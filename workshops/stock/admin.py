"""Cut-overs in the admin, to look at: they are decided on the site and stay as they are."""

from __future__ import annotations

from typing import Any

from django.contrib import admin
from django.http import HttpRequest

from workshops.stock.models import CutOver, CutOverLine


class LineInline(admin.TabularInline[CutOverLine, CutOver]):
    """The fates."""

    model = CutOverLine
    extra = 0
    can_delete = False


@admin.register(CutOver)
class CutOverAdmin(admin.ModelAdmin[CutOver]):
    """Cut-overs with their fates."""

    list_display = ["at", "shop", "sheet", "before", "by"]
    list_filter = ["shop"]
    list_select_related = ["shop", "sheet", "before", "by"]
    inlines = [LineInline]

    def has_add_permission(self, request: HttpRequest) -> bool:  # noqa: ARG002
        """Nobody."""
        return False

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:  # noqa: ARG002
        """Nobody."""
        return False

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:  # noqa: ARG002
        """Nobody."""
        return False
