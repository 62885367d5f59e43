"""Orders and deliveries in the admin: to read, never to write."""

from __future__ import annotations

from django.contrib import admin

from inventory.deliveries.models import Delivery, Order, OrderLine, Received
from inventory.places.readonly import ReadOnlyAdmin


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
class OrderAdmin(ReadOnlyAdmin[Order]):
    """Orders with their lines."""

    list_display = ["number", "shop", "supplier", "state", "sent_on", "expected_on"]
    list_filter = ["shop", "state"]
    inlines = [OrderLineInline]


@admin.register(Delivery)
class DeliveryAdmin(ReadOnlyAdmin[Delivery]):
    """Deliveries with what came."""

    list_display = ["arrived_at", "shop", "source", "is_donated", "order", "letter_due_on"]
    list_filter = ["shop", "is_donated"]
    inlines = [ReceivedInline]
