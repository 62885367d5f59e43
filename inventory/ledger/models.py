"""Entry, line and balance. Append-only: a correction is a new entry."""

from __future__ import annotations

import uuid
from datetime import timedelta
from decimal import Decimal

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone

from inventory.materials.models import Item
from inventory.places.models import OfShop, Place

LATER = timedelta(hours=2)

# How a quantity is kept: the finest, and the first number with more digits than that.
DIGITS, DECIMALS = 14, 3
FINEST = Decimal(1).scaleb(-DECIMALS)
TOO_MANY = Decimal(1).scaleb(DIGITS - DECIMALS)


class Condition(models.TextChoices):
    """What a thing on a shelf may be used for."""

    GOOD = "good", "good"
    HOLD = "hold", "on hold"


class Entry(OfShop):
    """One change of the stock, with its reason and its paper."""

    class Kind(models.TextChoices):
        GOODS_IN = "goods_in", "goods in"
        USED = "used", "used"
        MADE = "made", "made"
        CUT = "cut", "cut"
        MOVED = "moved", "moved"
        COUNTED = "counted", "count difference"
        SCRAP = "scrap", "scrap"
        HOLD = "hold", "put on hold"
        RELEASE = "release", "released from hold"
        RETURNED = "returned", "returned"
        SET_OUT = "set_out", "set out in the marsh"
        CORRECTION = "correction", "correction"

    kind = models.CharField(max_length=12, choices=Kind.choices)
    at = models.DateTimeField(default=timezone.now, help_text="when it happened")
    # Apart from "at": a tally typed in next morning happened last night.
    recorded_at = models.DateTimeField(default=timezone.now, editable=False)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    reason = models.CharField(max_length=200, blank=True)
    paper = models.CharField(max_length=80, blank=True, help_text="the sheet or note it came from")
    night_key = models.CharField(
        max_length=20, blank=True, db_index=True, help_text="the shop night, as its date"
    )
    corrects = models.OneToOneField(
        "self", models.PROTECT, null=True, blank=True, related_name="correction"
    )
    # Made by the form before it is sent, so that a tablet may send again after the Wi-Fi dropped.
    client_key = models.UUIDField(default=uuid.uuid4, editable=False)

    class Meta:
        ordering = ["-at", "-pk"]
        verbose_name_plural = "entries"
        indexes = [models.Index(fields=["shop", "-at"], name="entry_shop_at")]
        constraints = [
            models.UniqueConstraint(fields=["shop", "client_key"], name="entry_key_once_a_shop"),
            models.CheckConstraint(
                condition=~Q(kind__in=["correction", "scrap", "hold"]) | ~Q(reason=""),
                name="entry_says_why",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} {self.at:%Y-%m-%d %H:%M}"

    @property
    def is_typed_in_later(self) -> bool:
        """Whether it was written long after it happened, as from a sheet the next day."""
        return self.recorded_at - self.at >= LATER


class Line(models.Model):
    """So many of an item, into (+) or out of (-) a place or an account."""

    class Account(models.TextChoices):
        SHELF = "shelf", "on a shelf"
        OUTSIDE = "outside", "supplier, donor or marsh"
        USED = "used", "used in making"
        MADE = "made", "made here"
        SCRAP = "scrap", "scrap"
        DIFFERENCE = "difference", "count difference"

    entry = models.ForeignKey(Entry, models.PROTECT, related_name="lines")
    item = models.ForeignKey(Item, models.PROTECT, related_name="lines")
    account = models.CharField(max_length=10, choices=Account.choices)
    place = models.ForeignKey(Place, models.PROTECT, null=True, blank=True)
    condition = models.CharField(max_length=4, choices=Condition.choices, default=Condition.GOOD)
    length_um = models.PositiveBigIntegerField(default=0)
    quantity = models.DecimalField(max_digits=DIGITS, decimal_places=DECIMALS)

    class Meta:
        ordering = ["pk"]
        indexes = [models.Index(fields=["item", "account", "entry"], name="line_item_account")]
        constraints = [
            models.CheckConstraint(condition=~Q(quantity=0), name="line_moves_something"),
            models.CheckConstraint(
                condition=Q(account="shelf", place__isnull=False)
                | (~Q(account="shelf") & Q(place__isnull=True)),
                name="line_shelf_has_a_place",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.quantity:+} {self.item}"


class Balance(models.Model):
    """How many of an item, of one length and condition, lie in one place."""

    item = models.ForeignKey(Item, models.PROTECT, related_name="balances")
    place = models.ForeignKey(Place, models.PROTECT, related_name="balances")
    condition = models.CharField(max_length=4, choices=Condition.choices, default=Condition.GOOD)
    length_um = models.PositiveBigIntegerField(default=0)
    # Kept and not summed each time: the pages of a shop with ten winters stay quick.
    quantity = models.DecimalField(max_digits=DIGITS, decimal_places=DECIMALS, default=0)

    class Meta:
        ordering = ["item", "-length_um"]
        constraints = [
            models.UniqueConstraint(
                fields=["item", "place", "condition", "length_um"], name="balance_once"
            ),
            models.CheckConstraint(condition=Q(quantity__gte=0), name="balance_not_negative"),
        ]

    def __str__(self) -> str:
        return f"{self.quantity} {self.item} at {self.place}"


class GoodsIn(models.Model):
    """Where a delivery came from: bought or donated, and at what value."""

    entry = models.OneToOneField(Entry, models.PROTECT, related_name="goods_in")
    source = models.CharField(max_length=80, help_text="supplier or donor")
    is_donated = models.BooleanField(default=False)
    value = models.DecimalField(max_digits=10, decimal_places=2, null=True, blank=True)
    value_basis = models.CharField(max_length=120, blank=True, help_text="how the value was set")

    class Meta:
        verbose_name_plural = "goods in"

    def __str__(self) -> str:
        return f"from {self.source}"
