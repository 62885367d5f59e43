"""Tablet, tap, paper sheet, and counts that were told of the wrong operation."""

from __future__ import annotations

import uuid

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone

from inventory.places.models import OfShop
from workshops.nights.models import Night, Tally
from workshops.stations.models import Operation


def nothing() -> list[int]:
    """No good, none on hold, no scrap."""
    return [0, 0, 0]


class Tablet(OfShop):
    """A tablet, phone or laptop that counts; it numbers what it taps 1, 2, 3 and on."""

    key = models.UUIDField(editable=False)
    name = models.CharField(max_length=40)
    added_at = models.DateTimeField(default=timezone.now)
    last_contact_at = models.DateTimeField(default=timezone.now)
    # What it told at its last contact: so a lost tablet is missed to the tap.
    told = models.PositiveIntegerField(default=0, help_text="the number of its latest tap")
    waiting = models.JSONField(
        default=dict, help_text="operation: pieces it had not shared yet, at its last contact"
    )
    lost_at = models.DateTimeField(null=True, blank=True)
    lost_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    lost_words = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["name", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["shop", "key"], name="tablet_key_once_a_shop"),
            models.UniqueConstraint(
                fields=["shop", "name"], condition=Q(lost_at=None), name="tablet_name_once_a_shop"
            ),
        ]

    def __str__(self) -> str:
        return self.name


class Press(OfShop):
    """One press on a tablet: pieces counted, or an earlier press taken back.

    Pressed and taken back before it was shared, it is of nothing: its number alone is told,
    so that a gap in the numbers always means a tap that is missing.
    """

    tablet = models.ForeignKey(Tablet, models.PROTECT, related_name="taps")
    number = models.PositiveIntegerField()
    key = models.UUIDField(editable=False)
    night = models.ForeignKey(Night, models.PROTECT, related_name="presses")
    operation = models.ForeignKey(
        Operation, models.PROTECT, null=True, blank=True, related_name="+"
    )
    good = models.PositiveIntegerField(default=0)
    hold = models.PositiveIntegerField(default=0)
    scrap = models.PositiveIntegerField(default=0)
    takes_back = models.UUIDField(null=True, blank=True, help_text="the key of the tap taken back")
    tapped_at = models.DateTimeField()
    shared_at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    # The row that counts it, with others of its burst; the latest, when it was counted anew.
    tally = models.ForeignKey(Tally, models.PROTECT, null=True, blank=True, related_name="taps")
    refused = models.CharField(max_length=300, blank=True, help_text="why it is not in the book")

    class Meta:
        ordering = ["tablet", "number"]
        indexes = [models.Index(fields=["tablet", "number"], name="press_number")]
        constraints = [
            models.UniqueConstraint(fields=["shop", "key"], name="press_key_once_a_shop"),
        ]

    def __str__(self) -> str:
        return f"{self.tablet}, tap {self.number}"


class Mending(OfShop):
    """Pieces that were counted as one operation and were another: who said so, and why."""

    night = models.ForeignKey(Night, models.PROTECT, related_name="mendings")
    counted_as = models.ForeignKey(Operation, models.PROTECT, related_name="+")
    # The same operation when only good, hold or scrap was wrong; none when it was nothing.
    was = models.ForeignKey(Operation, models.PROTECT, null=True, blank=True, related_name="+")
    good = models.PositiveIntegerField(default=0)
    hold = models.PositiveIntegerField(default=0)
    scrap = models.PositiveIntegerField(default=0)
    reason = models.CharField(max_length=200)
    at = models.DateTimeField(default=timezone.now)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    client_key = models.UUIDField(default=uuid.uuid4, editable=False)

    class Meta:
        ordering = ["-at", "-pk"]
        constraints = [
            models.UniqueConstraint(fields=["shop", "client_key"], name="mending_key_once_a_shop"),
            models.CheckConstraint(condition=~Q(reason=""), name="mending_says_why"),
        ]

    def __str__(self) -> str:
        return f"{self.good + self.hold + self.scrap} {self.counted_as} were {self.was or 'none'}"


class PaperSheet(OfShop):
    """A tally sheet on paper, by the number printed on it; typed in once."""

    night = models.ForeignKey(Night, models.PROTECT, related_name="sheets")
    number = models.PositiveIntegerField()
    printed_at = models.DateTimeField(null=True, blank=True)
    counted_by = models.CharField(max_length=80, blank=True, help_text="whose hand it is in")
    note = models.CharField(max_length=200, blank=True)
    typed_at = models.DateTimeField(null=True, blank=True)
    typed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["-number"]
        constraints = [
            models.UniqueConstraint(fields=["shop", "number"], name="sheet_number_once_a_shop"),
        ]

    def __str__(self) -> str:
        return f"sheet {self.number}"


class PaperLine(models.Model):
    """What a sheet says of one operation, what the tablets said then, and what a person decided."""

    class Decision(models.TextChoices):
        SAME = "same", "the same pieces: the greater number counts"
        MORE = "more", "pieces that no tablet counted: they are added"
        TABLETS = "tablets", "the tablets are right: the paper is only kept"

    sheet = models.ForeignKey(PaperSheet, models.CASCADE, related_name="lines")
    operation = models.ForeignKey(Operation, models.PROTECT, related_name="+")
    good = models.PositiveIntegerField(default=0)
    hold = models.PositiveIntegerField(default=0)
    scrap = models.PositiveIntegerField(default=0)
    decision = models.CharField(max_length=7, choices=Decision.choices, blank=True)
    word = models.CharField(max_length=200, blank=True, help_text="why")
    decided_at = models.DateTimeField(null=True, blank=True)
    decided_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    beside = models.JSONField(null=True, blank=True, help_text="good, hold, scrap counted then")
    tally = models.OneToOneField(
        Tally, models.PROTECT, null=True, blank=True, related_name="paper_line",
        help_text="what the sheet adds to the book, if anything",
    )  # fmt: skip
    moved = models.JSONField(
        default=nothing, help_text="good, hold, scrap of it that were another operation"
    )
    earlier = models.JSONField(default=list, help_text="what was decided before, by whom, when")
    stuck = models.CharField(max_length=300, blank=True, help_text="what keeps it from the book")

    class Meta:
        ordering = ["sheet", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["sheet", "operation"], name="operation_once_a_sheet"),
            models.CheckConstraint(
                condition=Q(decision="") | (~Q(word="") & Q(decided_at__isnull=False)),
                name="decision_has_a_word",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.sheet}: {self.operation}"
