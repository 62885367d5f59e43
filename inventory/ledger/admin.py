"""The book in the admin: to read, never to write."""

from __future__ import annotations

from django.contrib import admin

from inventory.ledger.models import Balance, Entry, Line
from inventory.places.readonly import ReadOnlyAdmin


class LineInline(admin.TabularInline[Line, Entry]):
    """The lines of an entry."""

    model = Line
    extra = 0
    can_delete = False


@admin.register(Entry)
class EntryAdmin(ReadOnlyAdmin[Entry]):
    """Entries with their lines."""

    list_display = ["at", "kind", "shop", "by", "reason"]
    list_filter = ["shop", "kind"]
    inlines = [LineInline]


@admin.register(Balance)
class BalanceAdmin(ReadOnlyAdmin[Balance]):
    """Balances, kept by the book."""

    list_display = ["item", "place", "condition", "length_um", "quantity"]
    list_filter = ["item__shop"]
