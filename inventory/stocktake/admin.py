"""Stocktakes in the admin: to read, never to write."""

from __future__ import annotations

from typing import Any

from django.contrib import admin
from django.db.models import Model
from django.http import HttpRequest

from inventory.stocktake.models import CountLine, CountSheet, Look, Stocktake


class ReadingOnly(admin.ModelAdmin[Any]):
    """Counts are put and posted by the site's own actions."""

    def has_add_permission(self, request: HttpRequest) -> bool:  # noqa: ARG002
        """Never."""
        return False

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:  # noqa: ARG002
        """Never."""
        return False

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:  # noqa: ARG002
        """Never."""
        return False


class Inside(admin.TabularInline[Any, Model]):
    """Rows of a sheet, shown with it."""

    extra = 0
    can_delete = False


class LookInline(Inside):
    """Who counted."""

    model = Look


class CountLineInline(Inside):
    """What was counted."""

    model = CountLine


@admin.register(Stocktake)
class StocktakeAdmin(ReadingOnly):
    """Stocktakes of every shop."""

    list_display = ["name", "shop", "opened_at", "closed_at"]
    list_filter = ["shop"]


@admin.register(CountSheet)
class CountSheetAdmin(ReadingOnly):
    """Sheets with their looks and lines."""

    list_display = ["stocktake", "place", "posted_at", "posted_by"]
    list_filter = ["stocktake__shop"]
    inlines = [LookInline, CountLineInline]
