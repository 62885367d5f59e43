"""The book in the admin: to read, never to write."""

from __future__ import annotations

from typing import Any

from django.contrib import admin
from django.http import HttpRequest

from inventory.ledger.models import Balance, Entry, Line


class ReadingOnly(admin.ModelAdmin[Any]):
    """Nothing is added, changed or deleted here: the site's own actions write the book."""

    def has_add_permission(self, request: HttpRequest) -> bool:  # noqa: ARG002
        """Never."""
        return False

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:  # noqa: ARG002
        """Never."""
        return False

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:  # noqa: ARG002
        """Never."""
        return False


class LineInline(admin.TabularInline[Line, Entry]):
    """The lines of an entry."""

    model = Line
    extra = 0
    can_delete = False


@admin.register(Entry)
class EntryAdmin(ReadingOnly):
    """Entries with their lines."""

    list_display = ["at", "kind", "shop", "by", "reason"]
    list_filter = ["shop", "kind"]
    inlines = [LineInline]


@admin.register(Balance)
class BalanceAdmin(ReadingOnly):
    """Balances, kept by the book."""

    list_display = ["item", "place", "condition", "length_um", "quantity"]
    list_filter = ["item__shop"]
