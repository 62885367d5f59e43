"""Order and its lines; delivery and what was received of each item."""

from __future__ import annotations

import uuid

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone

from inventory.ledger.models import Entry
from inventory.materials.models import Item
from inventory.places.models import OfShop


class Order(OfShop):
    """What was asked of one supplier."""

    class State(models.TextChoices):
        DRAFT = "draft", "being written"
        SENT = "sent", "sent"
        CLOSED = "closed", "closed"
        CANCELLED = "cancelled", "cancelled"

    number = models.PositiveIntegerField(help_text="counts up within the shop")
    supplier = models.CharField(max_length=80)
    state = models.CharField(max_length=9, choices=State.choices, default=State.DRAFT)
    sent_on = models.DateField(null=True, blank=True)
    expected_on = models.DateField(null=True, blank=True, help_text="when it should be here")
    wanted_on = models.DateField(null=True, blank=True, help_text="when it must be here")
    deliver_to = models.CharField(max_length=200, blank=True, help_text="where it is brought")
    note = models.CharField(max_length=200, blank=True)
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    made_at = models.DateTimeField(default=timezone.now)
    sent_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    # Closed or cancelled: by whom, when, and why when not all of it came.
    ended_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    ended_at = models.DateTimeField(null=True, blank=True)
    ended_why = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["-number"]
        constraints = [
            models.UniqueConstraint(fields=["shop", "number"], name="order_number_once_a_shop"),
            models.CheckConstraint(
                condition=~Q(state="sent") | Q(sent_on__isnull=False), name="order_sent_on_a_day"
            ),
            models.CheckConstraint(
                condition=~Q(state="cancelled") | ~Q(ended_why=""),
                name="order_cancelled_for_a_reason",
            ),
        ]

    def __str__(self) -> str:
        return f"Order {self.number} to {self.supplier}"


class OrderLine(models.Model):
    """So many of an item; sticks of a length for metal."""

    order = models.ForeignKey(Order, models.CASCADE, related_name="lines")
    item = models.ForeignKey(Item, models.PROTECT, related_name="ordered")
    length_um = models.PositiveBigIntegerField(default=0, help_text="0 when not held by length")
    quantity = models.DecimalField(max_digits=12, decimal_places=3)
    # Kept with the order: what the price was then, whatever the item costs later.
    unit_price = models.DecimalField(max_digits=10, decimal_places=2, null=True, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(condition=Q(quantity__gt=0), name="order_line_asks_something"),
            models.UniqueConstraint(
                fields=["order", "item", "length_um"], name="order_line_once_a_length"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.quantity} × {self.item}"


class Delivery(OfShop):
    """One arrival at the door: bought or an in-kind gift, on an order or without one."""

    source = models.CharField(max_length=80, help_text="supplier or donor")
    is_donated = models.BooleanField(default=False)
    order = models.ForeignKey(
        Order, models.PROTECT, null=True, blank=True, related_name="deliveries"
    )
    arrived_at = models.DateTimeField(default=timezone.now)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    paper = models.CharField(max_length=80, blank=True, help_text="delivery note or bill")
    value_basis = models.CharField(max_length=120, blank=True, help_text="how a gift was valued")
    letter_due_on = models.DateField(null=True, blank=True, help_text="thank-you letter due")
    letter_sent_on = models.DateField(null=True, blank=True)
    grant = models.CharField(max_length=80, blank=True, help_text="the grant it counts for")
    note = models.CharField(max_length=200, blank=True)
    # Made by the form before it is sent, so that a phone may send again.
    client_key = models.UUIDField(default=uuid.uuid4, editable=False)

    class Meta:
        ordering = ["-arrived_at", "-pk"]
        verbose_name_plural = "deliveries"
        constraints = [
            models.UniqueConstraint(fields=["shop", "client_key"], name="delivery_key_once_a_shop")
        ]

    def __str__(self) -> str:
        return f"Delivery from {self.source}, {self.arrived_at:%Y-%m-%d}"


class Received(models.Model):
    """What came of one item, with what was measured; one entry of the book."""

    class Finish(models.TextChoices):
        UNKNOWN = "", "not looked at"
        BARE = "bare", "bare or oiled"
        GALVANISED = "galvanised", "galvanised"
        PAINTED = "painted", "painted"

    # What an arc turns to fume.
    COATED = (Finish.GALVANISED, Finish.PAINTED)

    delivery = models.ForeignKey(Delivery, models.PROTECT, related_name="received")
    entry = models.OneToOneField(Entry, models.PROTECT, related_name="received")
    # The entry that set it aside at once, when it was not taken in as good.
    hold_entry = models.OneToOneField(
        Entry, models.PROTECT, null=True, blank=True, related_name="received_on_hold"
    )
    order_line = models.ForeignKey(
        OrderLine, models.PROTECT, null=True, blank=True, related_name="received"
    )
    finish = models.CharField(max_length=10, choices=Finish.choices, blank=True)
    # As measured with a caliper at the door, not as the bill says; empty when not measured.
    outside_um = models.PositiveIntegerField(null=True, blank=True)
    wall_um = models.PositiveIntegerField(null=True, blank=True)
    wire_um = models.PositiveIntegerField(null=True, blank=True)
    moisture_percent = models.DecimalField(max_digits=4, decimal_places=1, null=True, blank=True)
    # What the go / no-go said of each part when it was booked in: the drawing may change later.
    judged = models.JSONField(default=list, blank=True)
    # Nobody marks a galvanised stick in the book: a person looks and says that none is left.
    coating_gone_at = models.DateTimeField(null=True, blank=True)
    coating_gone_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["pk"]
        verbose_name_plural = "received"

    def __str__(self) -> str:
        return f"received {self.entry_id}"
