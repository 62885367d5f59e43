"""Something that happened, what was added later, who stood there, and the day after."""

from __future__ import annotations

import uuid

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.utils import timezone

from inventory.places.models import OfShop
from workshops.nights.models import Night
from workshops.people.models import Person
from workshops.stations.models import Station, StationStop, Tool


class Trouble(OfShop):
    """What happened, as it was told within a minute. Never edited: more is added below it."""

    class Kind(models.TextChoices):
        NEAR_MISS = "near_miss", "near miss"
        HURT = "hurt", "somebody hurt"
        BROKEN = "broken", "broken tool"
        FIRE = "fire", "fire or smoke"

    night = models.ForeignKey(Night, models.PROTECT, related_name="troubles")
    kind = models.CharField(max_length=9, choices=Kind.choices)
    station = models.ForeignKey(
        Station, models.PROTECT, null=True, blank=True, related_name="troubles",
        help_text="empty: somewhere else in the building",
    )  # fmt: skip
    at = models.DateTimeField(default=timezone.now, help_text="when it happened")
    what = models.CharField(max_length=200, blank=True, help_text="one line; more may be added")
    people = models.ManyToManyField(Person, related_name="troubles", blank=True)
    tool = models.ForeignKey(
        Tool, models.PROTECT, null=True, blank=True, related_name="troubles",
        help_text="taken out of service by this",
    )  # fmt: skip
    stop = models.ForeignKey(
        StationStop, models.PROTECT, null=True, blank=True, related_name="troubles",
        help_text="how the station was closed",
    )  # fmt: skip
    reported_by = models.CharField(max_length=80)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    recorded_at = models.DateTimeField(default=timezone.now, editable=False)
    client_key = models.UUIDField(default=uuid.uuid4, editable=False)

    class Meta:
        ordering = ["-at", "-pk"]
        constraints = [
            models.UniqueConstraint(fields=["shop", "client_key"], name="trouble_key_once_a_shop"),
            models.CheckConstraint(condition=~Q(reported_by=""), name="somebody_reports_it"),
        ]

    def __str__(self) -> str:
        where = self.station.name if self.station else "in the building"
        return f"{self.get_kind_display()}, {where}"

    @property
    def is_private(self) -> bool:
        """Whether somebody was hurt, which is nobody's business but the leads'."""
        return self.kind == Trouble.Kind.HURT


class Addition(models.Model):
    """What somebody added later: with a name and a time, below what was told first."""

    trouble = models.ForeignKey(Trouble, models.PROTECT, related_name="additions")
    words = models.TextField(max_length=1000)
    written_by = models.CharField(max_length=80)
    at = models.DateTimeField(default=timezone.now)
    client_key = models.UUIDField(default=uuid.uuid4, editable=False)

    class Meta:
        ordering = ["at", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["trouble", "client_key"], name="added_once"),
            models.CheckConstraint(
                condition=~Q(words="") & ~Q(written_by=""), name="an_addition_has_words_and_a_name"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.words[:40]} ({self.written_by})"


class StoodThere(models.Model):
    """Who stood at the station when it happened: kept here, since they are taken out of the plan.

    ``ends`` is when the station was closed under them, empty when they went on.
    """

    trouble = models.ForeignKey(Trouble, models.PROTECT, related_name="stood")
    person = models.ForeignKey(Person, models.CASCADE, related_name="stood_there")
    starts = models.DateTimeField()
    ends = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]
        verbose_name_plural = "stood there"
        constraints = [
            models.UniqueConstraint(fields=["trouble", "person"], name="stood_there_once"),
            models.CheckConstraint(
                condition=Q(ends__isnull=True) | Q(ends__gte=F("starts")),
                name="stood_there_in_order",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.person} at {self.trouble}"


class DayAfter(OfShop):
    """How somebody who welded or handled straw was the day after. The latest answer counts."""

    class Answer(models.TextChoices):
        FINE = "fine", "fine"
        NOT_WELL = "not_well", "not well"
        NOT_REACHED = "not_reached", "not reached"

    night = models.ForeignKey(Night, models.PROTECT, related_name="days_after")
    person = models.ForeignKey(Person, models.CASCADE, related_name="days_after")
    answer = models.CharField(max_length=11, choices=Answer.choices)
    told = models.CharField(max_length=300, blank=True, help_text="what they were told to do")
    words = models.CharField(max_length=200, blank=True)
    asked_by = models.CharField(max_length=80)
    at = models.DateTimeField(default=timezone.now)
    client_key = models.UUIDField(default=uuid.uuid4, editable=False)

    class Meta:
        ordering = ["-at", "-pk"]
        verbose_name_plural = "days after"
        constraints = [
            models.UniqueConstraint(fields=["shop", "client_key"], name="day_after_key_once"),
            models.CheckConstraint(condition=~Q(asked_by=""), name="somebody_asked_the_day_after"),
        ]

    def __str__(self) -> str:
        return f"{self.person}: {self.get_answer_display()}"
