"""Stocktakes in the admin: to read, never to write."""

from __future__ import annotations

from typing import Any

from django.contrib import admin
from django.db.models import Model

from inventory.places.readonly import ReadOnlyAdmin
from inventory.stocktake.models import CountLine, CountSheet, Look, Stocktake


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
class StocktakeAdmin(ReadOnlyAdmin[Stocktake]):
    """Stocktakes of every shop."""

    list_display = ["name", "shop", "opened_at", "closed_at"]
    list_filter = ["shop"]


@admin.register(CountSheet)
class CountSheetAdmin(ReadOnlyAdmin[CountSheet]):
    """Sheets with their looks and lines."""

    list_display = ["stocktake", "place", "posted_at", "posted_by"]
    list_filter = ["stocktake__shop"]
    inlines = [LookInline, CountLineInline]
