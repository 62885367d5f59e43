"""A check, what it held back, and how that was sorted. Rows are written once."""

from __future__ import annotations

import uuid

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.utils import timezone

from inventory.materials.models import Item
from inventory.places.models import OfShop
from workshops.nights.models import Night
from workshops.stations.models import Operation


class Check(OfShop):
    """Somebody looked at a piece of one operation, and found it good or bad."""

    class Kind(models.TextChoices):
        FIRST = "first", "first piece"
        NTH = "nth", "every nth piece"
        BREAK = "break", "break test"
        REWORK = "rework", "after rework"

    class How(models.TextChoices):
        MEASURED = "measured", "measured against the drawing"
        GAUGE = "gauge", "go/no-go gauge"
        EYE = "eye", "by eye, with the card"

    night = models.ForeignKey(Night, models.PROTECT, related_name="checks")
    operation = models.ForeignKey(Operation, models.PROTECT, related_name="checks")
    kind = models.CharField(max_length=6, choices=Kind.choices)
    how = models.CharField(max_length=8, choices=How.choices, default=How.EYE)
    is_good = models.BooleanField()
    measure = models.CharField(max_length=80, blank=True, help_text="what was measured")
    value_um = models.PositiveBigIntegerField(null=True, blank=True)
    said = models.CharField(max_length=200, blank=True, help_text="what the drawing said of it")
    words = models.CharField(max_length=200, blank=True, help_text="what is wrong, in words")
    looked_at = models.PositiveSmallIntegerField(default=1, help_text="pieces looked at")
    since_last = models.PositiveIntegerField(
        default=0, help_text="good pieces counted since the check before"
    )
    checked_by = models.CharField(max_length=80)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    at = models.DateTimeField(default=timezone.now)
    corrects = models.OneToOneField(
        "self", models.PROTECT, null=True, blank=True, related_name="corrected_by"
    )
    client_key = models.UUIDField(default=uuid.uuid4, editable=False)

    class Meta:
        ordering = ["-at", "-pk"]
        indexes = [models.Index(fields=["operation", "-at"], name="check_of_operation")]
        constraints = [
            models.UniqueConstraint(fields=["shop", "client_key"], name="check_key_once_a_shop"),
            models.CheckConstraint(
                condition=Q(is_good=True) | ~Q(words=""), name="a_bad_piece_is_told_in_words"
            ),
            models.CheckConstraint(
                condition=Q(how="measured", value_um__isnull=False)
                | (~Q(how="measured") & Q(value_um__isnull=True)),
                name="what_is_measured_has_a_value",
            ),
            models.CheckConstraint(
                condition=Q(looked_at__gte=1) & ~Q(checked_by=""), name="somebody_looked_at_a_piece"
            ),
        ]

    def __str__(self) -> str:
        found = "good" if self.is_good else "bad"
        return f"{self.operation}, {self.get_kind_display()}: {found}"


class Held(OfShop):
    """Pieces that a failed check set aside, and those that were gone already.

    ``suspected`` were counted good since the last good check, ``held`` of them lay on the rack
    and went on hold in the book. ``gone`` says where the rest is: a list of
    ``{"where": ..., "item": id or none, "pieces": ..., "count": ...}``, where ``count`` is how
    many of that item have one in them.
    """

    failed = models.ForeignKey(Check, models.PROTECT, related_name="held")
    item = models.ForeignKey(Item, models.PROTECT, related_name="held_back")
    because_of = models.ForeignKey(
        "self", models.PROTECT, null=True, blank=True, related_name="further"
    )
    back_to = models.ForeignKey(
        Check, models.PROTECT, null=True, blank=True, related_name="+",
        help_text="the last good check; empty when there was none",
    )  # fmt: skip
    suspected = models.PositiveIntegerField()
    held = models.PositiveIntegerField()
    gone = models.JSONField(default=list, blank=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    at = models.DateTimeField(default=timezone.now)
    client_key = models.UUIDField(default=uuid.uuid4, editable=False)

    class Meta:
        ordering = ["-at", "-pk"]
        verbose_name_plural = "held"
        constraints = [
            models.UniqueConstraint(fields=["shop", "client_key"], name="held_key_once_a_shop"),
            models.CheckConstraint(
                condition=Q(held__lte=F("suspected")), name="no_more_held_than_suspected"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.held} {self.item} held back"


class Sorted(OfShop):
    """How some of what was held back was sorted: good, rework or scrap, in counts.

    With ``from_rework`` they were mended: good after a good check, or scrap after all.
    """

    held = models.ForeignKey(Held, models.PROTECT, related_name="sorts")
    good = models.PositiveIntegerField(default=0)
    rework = models.PositiveIntegerField(default=0)
    scrap = models.PositiveIntegerField(default=0)
    from_rework = models.BooleanField(default=False)
    after = models.ForeignKey(
        Check, models.PROTECT, null=True, blank=True, related_name="+",
        help_text="the good check after rework",
    )  # fmt: skip
    words = models.CharField(max_length=200, blank=True)
    sorted_by = models.CharField(max_length=80)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    at = models.DateTimeField(default=timezone.now)
    client_key = models.UUIDField(default=uuid.uuid4, editable=False)

    class Meta:
        ordering = ["at", "pk"]
        verbose_name_plural = "sorted"
        constraints = [
            models.UniqueConstraint(fields=["shop", "client_key"], name="sorted_key_once_a_shop"),
            models.CheckConstraint(
                condition=Q(good__gt=0) | Q(rework__gt=0) | Q(scrap__gt=0),
                name="something_was_sorted",
            ),
            models.CheckConstraint(
                condition=Q(from_rework=False, after__isnull=True)
                | Q(from_rework=True, rework=0, good=0)
                | Q(from_rework=True, rework=0, after__isnull=False),
                name="mended_is_good_after_a_good_check",
            ),
            models.CheckConstraint(condition=~Q(sorted_by=""), name="somebody_sorted_it"),
        ]

    def __str__(self) -> str:
        return f"{self.good} good, {self.rework} rework, {self.scrap} scrap"
