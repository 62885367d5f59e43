"""The permit, what was answered before it, every spark, who watched, and the hand-over."""

from __future__ import annotations

import uuid

from django.db import models
from django.db.models import F, Q
from django.utils import timezone

from inventory.places.models import OfShop, Room
from workshops.people.models import Person
from workshops.stations.models import Station


class HotWorkPermit(models.Model):
    """The permit of a night with hot work: who watches, how long, and the signatures.

    ``watcher`` has the watch now or had it last; ``last_spark_at`` is the latest spark told.
    The signatures here count: a spark after them takes them off, their rows stay.
    """

    night = models.OneToOneField("nights.Night", models.CASCADE, related_name="permit")
    watcher = models.ForeignKey(Person, models.PROTECT, related_name="watches")
    watch_minutes = models.PositiveSmallIntegerField()
    second_look_minutes = models.PositiveSmallIntegerField(
        default=0, help_text="after the watch; 0: none is ordered"
    )
    room = models.ForeignKey(
        Room, models.PROTECT, null=True, blank=True, related_name="+", help_text="where sparks fly"
    )
    stations = models.ManyToManyField(Station, blank=True, related_name="permits")
    work = models.CharField(max_length=120, blank=True, help_text="weld heads, grind, cut tube")
    extinguisher = models.CharField(max_length=80, blank=True, help_text="which one, and where")
    allowed_by = models.CharField(max_length=80, blank=True)
    key_with = models.CharField(max_length=80, blank=True, help_text="who locks up")
    opened_at = models.DateTimeField(default=timezone.now)
    opened_by = models.CharField(max_length=80)
    last_spark_at = models.DateTimeField(null=True, blank=True, help_text="when it really was")
    is_last_called = models.BooleanField(default=False, help_text="no arc may follow")
    watch_ended_at = models.DateTimeField(null=True, blank=True)
    watch_signed_by = models.CharField(max_length=80, blank=True)
    looked_again_at = models.DateTimeField(null=True, blank=True)
    looked_again_by = models.CharField(max_length=80, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=(Q(watch_ended_at__isnull=True) & Q(watch_signed_by=""))
                | (Q(watch_ended_at__isnull=False) & ~Q(watch_signed_by="")),
                name="watch_end_is_signed",
            ),
            models.CheckConstraint(
                condition=(Q(looked_again_at__isnull=True) & Q(looked_again_by=""))
                | (Q(looked_again_at__isnull=False) & ~Q(looked_again_by="")),
                name="second_look_is_signed",
            ),
        ]

    def __str__(self) -> str:
        return f"Permit of {self.night}"


class PermitPoint(OfShop):
    """A point the club asks on every permit beside the usual ones."""

    words = models.CharField(max_length=160)
    if_no = models.CharField(max_length=160, help_text="what to do when the answer is no")
    is_in_use = models.BooleanField(default=True)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return self.words


class PermitAnswer(models.Model):
    """One point answered by a named person; the latest answer of a point counts."""

    night = models.ForeignKey("nights.Night", models.CASCADE, related_name="permit_answers")
    point = models.CharField(max_length=24)
    words = models.CharField(max_length=160, help_text="as it was asked then")
    is_yes = models.BooleanField()
    checked_by = models.CharField(max_length=80)
    at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["at", "pk"]
        constraints = [
            models.CheckConstraint(condition=~Q(checked_by=""), name="somebody_checked_the_point"),
        ]

    def __str__(self) -> str:
        return f"{self.words}: {'yes' if self.is_yes else 'no'} ({self.checked_by})"


class Spark(models.Model):
    """A spark that was told: the last one called, or one that flew after it."""

    permit = models.ForeignKey(HotWorkPermit, models.CASCADE, related_name="sparks")
    station = models.ForeignKey(Station, models.PROTECT, related_name="sparks")
    at = models.DateTimeField()
    struck_by = models.CharField(max_length=80)
    is_late = models.BooleanField(default=False, help_text="after the last one was called")
    recorded_at = models.DateTimeField(default=timezone.now)
    told_by = models.CharField(max_length=80, blank=True, help_text="who typed it")
    client_key = models.UUIDField(default=uuid.uuid4, editable=False)

    class Meta:
        ordering = ["recorded_at", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["permit", "client_key"], name="spark_told_once"),
            models.CheckConstraint(condition=~Q(struck_by=""), name="a_spark_has_a_name"),
        ]

    def __str__(self) -> str:
        return f"{timezone.localtime(self.at):%H:%M} at {self.station}, {self.struck_by}"


class WatchTurn(models.Model):
    """One person on the fire watch, from when to when. No end: on watch now."""

    permit = models.ForeignKey(HotWorkPermit, models.CASCADE, related_name="turns")
    person = models.ForeignKey(Person, models.PROTECT, related_name="watch_turns")
    from_at = models.DateTimeField()
    until_at = models.DateTimeField(null=True, blank=True)
    why_ended = models.CharField(max_length=120, blank=True)

    class Meta:
        ordering = ["from_at", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["permit"], condition=Q(until_at__isnull=True), name="one_on_watch"
            ),
            models.CheckConstraint(
                condition=Q(until_at__isnull=True) | Q(until_at__gte=F("from_at")),
                name="turn_times_in_order",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.person} from {timezone.localtime(self.from_at):%H:%M}"


class WatchNote(models.Model):
    """What was signed during and after the watch: a round, its end, the second look."""

    class Kind(models.TextChoices):
        ROUND = "round", "round"
        END = "end", "end of the watch"
        SECOND = "second", "second look"

    permit = models.ForeignKey(HotWorkPermit, models.CASCADE, related_name="notes")
    kind = models.CharField(max_length=6, choices=Kind.choices)
    at = models.DateTimeField()
    signed_by = models.CharField(max_length=80)
    words = models.CharField(max_length=160, blank=True)

    class Meta:
        ordering = ["at", "pk"]
        constraints = [
            models.CheckConstraint(condition=~Q(signed_by=""), name="a_watch_note_is_signed"),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} {timezone.localtime(self.at):%H:%M}, {self.signed_by}"


class HandOver(models.Model):
    """What the next opener must know, written at the end of a night.

    ``found`` is what the site knew then: ``[{"title": ..., "lines": [...]}, ...]``.
    """

    night = models.OneToOneField("nights.Night", models.CASCADE, related_name="hand_over")
    words = models.TextField()
    first_job = models.CharField(max_length=200, blank=True, help_text="first job next night")
    ring = models.CharField(max_length=200, blank=True, help_text="whom to ring about what")
    found = models.JSONField(default=list)
    written_by = models.CharField(max_length=80)
    written_at = models.DateTimeField(default=timezone.now)
    read_by = models.CharField(max_length=80, blank=True)
    read_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=(Q(read_at__isnull=True) & Q(read_by=""))
                | (Q(read_at__isnull=False) & ~Q(read_by="")),
                name="a_hand_over_is_read_by_name",
            ),
        ]

    def __str__(self) -> str:
        return f"Hand-over of {self.night}"
