"""Stocktake, count sheet, one person's look at it, and the lines that were counted."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone

from inventory.ledger.models import Condition, Entry
from inventory.materials.models import Item
from inventory.places.models import OfShop, Place


class Turn(models.IntegerChoices):
    """Whose turn it is to look: the third is asked only where the first two differ."""

    FIRST = 1, "first count"
    SECOND = 2, "second count"
    THIRD = 3, "third look"


class Stocktake(OfShop):
    """Some places counted around one day, each with a sheet."""

    name = models.CharField(max_length=80)
    note = models.CharField(max_length=300, blank=True, help_text="what was agreed on the cut-off")
    # As it stood when counting began: by the end the nights have been entered and it is gone.
    cut_off = models.JSONField(default=list, blank=True)
    opened_at = models.DateTimeField(default=timezone.now)
    opened_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    closed_at = models.DateTimeField(null=True, blank=True)
    closed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["-opened_at", "-pk"]

    def __str__(self) -> str:
        return self.name


class CountSheet(models.Model):
    """One place to count: looked at twice, compared, then posted and never changed."""

    stocktake = models.ForeignKey(Stocktake, models.PROTECT, related_name="sheets")
    place = models.ForeignKey(Place, models.PROTECT, related_name="count_sheets")
    alone_reason = models.CharField(
        max_length=200, blank=True, help_text="why one person may count twice"
    )
    alone_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    book_opened_at = models.DateTimeField(null=True, blank=True)
    book_opened_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    posted_at = models.DateTimeField(null=True, blank=True)
    posted_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["stocktake", "place__name"]
        constraints = [
            models.UniqueConstraint(fields=["stocktake", "place"], name="count_sheet_once_a_place"),
            models.CheckConstraint(
                condition=Q(posted_at__isnull=True) | Q(book_opened_at__isnull=False),
                name="count_sheet_posted_with_the_book_open",
            ),
            models.CheckConstraint(
                condition=Q(alone_by__isnull=True) | ~Q(alone_reason=""),
                name="count_sheet_says_why_alone",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.place}, {self.stocktake}"


class Look(models.Model):
    """One person's look at a place: who, when, and whether it came in on paper."""

    sheet = models.ForeignKey(CountSheet, models.CASCADE, related_name="looks")
    turn = models.PositiveSmallIntegerField(choices=Turn.choices)
    counter = models.CharField(max_length=80, help_text="who counted")
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    is_from_paper = models.BooleanField(default=False)
    began_at = models.DateTimeField(default=timezone.now)
    done_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["sheet", "turn"]
        constraints = [
            models.UniqueConstraint(fields=["sheet", "turn"], name="look_once_a_turn"),
            models.CheckConstraint(condition=Q(turn__in=[1, 2, 3]), name="look_turn_is_known"),
        ]

    def __str__(self) -> str:
        return f"{self.get_turn_display()} of {self.sheet_id} by {self.counter}"


class CountLine(models.Model):
    """One thing on a sheet. A count that is empty was not looked at; 0 means none is here."""

    class Reason(models.TextChoices):
        """Where differences come from in a shop like this one."""

        UNEXPLAINED = "unexplained", "unexplained"
        NOT_TALLIED = "not_tallied", "used or made on a night, not tallied"
        TWICE = "twice", "tallied or written twice"
        OTHER_PART = "other_part", "counted as another part"
        GOODS_IN = "goods_in", "came in, never written"
        CARRIED = "carried", "carried elsewhere, not written"
        SCRAPPED = "scrapped", "scrapped, not written"
        SET_OUT = "set_out", "loaded for the marsh, not written"
        GIVEN = "given", "given away or lent"
        OLD_COUNT = "old_count", "an earlier count was wrong"
        OTHER = "other", "something else"

    sheet = models.ForeignKey(CountSheet, models.CASCADE, related_name="lines")
    item = models.ForeignKey(Item, models.PROTECT, related_name="count_lines")
    length_um = models.PositiveBigIntegerField(default=0)
    condition = models.CharField(max_length=4, choices=Condition.choices, default=Condition.GOOD)
    # Whose find it is; a find of one counter is not shown to the other.
    found_in = models.PositiveSmallIntegerField(choices=Turn.choices, null=True, blank=True)

    # The moment of each count as well: stock goes on moving while people count.
    first = models.DecimalField(max_digits=12, decimal_places=3, null=True, blank=True)
    first_at = models.DateTimeField(null=True, blank=True)
    second = models.DecimalField(max_digits=12, decimal_places=3, null=True, blank=True)
    second_at = models.DateTimeField(null=True, blank=True)
    third = models.DecimalField(max_digits=12, decimal_places=3, null=True, blank=True)
    third_at = models.DateTimeField(null=True, blank=True)

    # Somebody doubts the count that stands: nothing is posted before a third look.
    is_doubted = models.BooleanField(default=False)
    reason = models.CharField(
        max_length=12, choices=Reason.choices, default=Reason.UNEXPLAINED, blank=True
    )
    words = models.CharField(max_length=160, blank=True, help_text="what was found out")

    # Written when the sheet is posted, and read for ever after: the book moves on.
    agreed = models.DecimalField(max_digits=12, decimal_places=3, null=True, blank=True)
    agreed_at = models.DateTimeField(null=True, blank=True)
    booked = models.DecimalField(max_digits=14, decimal_places=3, null=True, blank=True)
    entry = models.OneToOneField(
        Entry, models.PROTECT, null=True, blank=True, related_name="count_line"
    )

    class Meta:
        ordering = ["item__name", "-length_um", "condition", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["sheet", "item", "length_um", "condition"], name="count_line_once_a_thing"
            ),
            *(
                models.CheckConstraint(
                    condition=Q(**{f"{turn}__isnull": True, f"{turn}_at__isnull": True})
                    | Q(**{f"{turn}__gte": 0, f"{turn}_at__isnull": False}),
                    name=f"count_line_{turn}_has_its_moment",
                )
                for turn in ("first", "second", "third")
            ),
        ]

    def __str__(self) -> str:
        return f"{self.item} on sheet {self.sheet_id}"

    def seen(self, turn: int) -> tuple[Decimal, datetime] | None:
        """What was counted in a turn and when; ``None`` when it was not looked at."""
        count = (self.first, self.second, self.third)[turn - 1]
        at = (self.first_at, self.second_at, self.third_at)[turn - 1]
        return None if count is None or at is None else (count, at)

    @property
    def difference(self) -> Decimal | None:
        """Counted less booked, once posted."""
        return None if self.agreed is None or self.booked is None else self.agreed - self.booked


class Settling(models.Model):
    """An entry that keeps a posted count true after something was typed in late."""

    line = models.ForeignKey(CountLine, models.PROTECT, related_name="settlings")
    entry = models.OneToOneField(Entry, models.PROTECT, related_name="settling")

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"settling of {self.line_id}"
