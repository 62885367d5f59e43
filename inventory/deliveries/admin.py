"""Orders and deliveries in the admin: to read, never to write."""

from __future__ import annotations

from typing import Any

from django.contrib import admin
from django.http import HttpRequest

from inventory.deliveries.models import Delivery, Order, OrderLine, Received


class ReadingOnly(admin.ModelAdmin[Any]):
    """Nothing is added, changed or deleted here: the pages write through the actions."""

    def has_add_permission(self, request: HttpRequest) -> bool:  # noqa: ARG002
        """Never."""
        return False

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:  # noqa: ARG002
        """Never."""
        return False

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:  # noqa: ARG002
        """Never."""
        return False


class OrderLineInline(admin.TabularInline[OrderLine, Order]):
    """What was asked for."""

    model = OrderLine
    extra = 0
    can_delete = False


class ReceivedInline(admin.TabularInline[Received, Delivery]):
    """What came, and what was measured."""

    model = Received
    extra = 0
    can_delete = False


@admin.register(Order)
class OrderAdmin(ReadingOnly):
    """Orders with their lines."""

    list_display = ["number", "shop", "supplier", "state", "sent_on", "expected_on"]
    list_filter = ["shop", "state"]
    inlines = [OrderLineInline]


@admin.register(Delivery)
class DeliveryAdmin(ReadingOnly):
    """Deliveries with what came."""

    list_display = ["arrived_at", "shop", "source", "is_donated", "order", "letter_due_on"]
    list_filter = ["shop", "is_donated"]
    inlines = [ReceivedInline]
