"""Who was asked to come, what a tap changed, a night called off, and who was told of it."""

from __future__ import annotations

import uuid

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.utils import timezone

from inventory.places.models import OfShop
from workshops.nights.models import Night, PlacingRun
from workshops.people.models import Person
from workshops.stations.models import Station


class Ask(OfShop):
    """Somebody was asked to come to one night for one station, and what they said.

    Kept after the night: who was asked often is asked later the next time.
    """

    class Reply(models.TextChoices):
        WAITING = "", "no word yet"
        YES = "yes", "comes"
        NO = "no", "cannot"
        NONE = "none", "could not be reached"

    night = models.ForeignKey(Night, models.CASCADE, related_name="asks")
    person = models.ForeignKey(Person, models.CASCADE, related_name="asks")
    station = models.ForeignKey(Station, models.PROTECT, related_name="asks")
    asked_at = models.DateTimeField(default=timezone.now)
    asked_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="+"
    )
    reply = models.CharField(max_length=4, choices=Reply.choices, default=Reply.WAITING, blank=True)
    replied_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-asked_at", "-pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["night", "person", "station"], name="asked_once_a_night_and_station"
            ),
            models.CheckConstraint(
                condition=(Q(reply="") & Q(replied_at__isnull=True))
                | (~Q(reply="") & Q(replied_at__isnull=False)),
                name="a_reply_has_its_time",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.person} asked for {self.station}, {self.night}"


class Tap(OfShop):
    """One tap "not coming", or its taking back: the plan before and the plan after.

    ``before`` and ``after`` are lists of [person, block, station, role], by ids; ``after`` is
    none until
    the plan was made anew, and for good where ``trouble`` says why it could not be.
    """

    night = models.ForeignKey(Night, models.CASCADE, related_name="taps")
    person = models.ForeignKey(Person, models.CASCADE, related_name="taps")
    answer_before = models.CharField(max_length=5, blank=True, help_text="empty: had not answered")
    before = models.JSONField(default=list)
    after = models.JSONField(null=True, blank=True)
    trouble = models.CharField(max_length=300, blank=True, help_text="why there is no after")
    run_before = models.ForeignKey(
        PlacingRun, models.SET_NULL, null=True, blank=True, related_name="+"
    )
    run = models.ForeignKey(PlacingRun, models.SET_NULL, null=True, blank=True, related_name="+")
    steps = models.JSONField(default=list, help_text="the board's own steps, by id, first first")
    undoes = models.OneToOneField(
        "self", models.CASCADE, null=True, blank=True, related_name="undone_by"
    )
    at = models.DateTimeField(default=timezone.now)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="+"
    )
    # Pressed twice by a cold hand, it is one tap.
    client_key = models.UUIDField(default=uuid.uuid4, editable=False)

    class Meta:
        ordering = ["-at", "-pk"]
        constraints = [
            models.UniqueConstraint(fields=["shop", "client_key"], name="tap_key_once_a_shop")
        ]

    def __str__(self) -> str:
        return f"{self.person} {'comes after all' if self.undoes_id else 'is not coming'}"


class CalledOff(OfShop):
    """A night that was called off, and the night to which its people were moved."""

    night = models.OneToOneField(Night, models.CASCADE, related_name="called_off")
    moved_to = models.ForeignKey(
        Night, models.SET_NULL, null=True, blank=True, related_name="takes_over"
    )
    at = models.DateTimeField(default=timezone.now)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["-at", "-pk"]
        verbose_name = "night called off"
        verbose_name_plural = "nights called off"
        constraints = [
            models.CheckConstraint(condition=~Q(moved_to=F("night")), name="moved_to_another_night")
        ]

    def __str__(self) -> str:
        return f"{self.night} called off"


class Told(OfShop):
    """That one person was told, once, that a night is off: by letter, or to be rung up."""

    night = models.ForeignKey(Night, models.CASCADE, related_name="told")
    person = models.ForeignKey(Person, models.CASCADE, related_name="told_off")
    has_email = models.BooleanField(help_text="false: no address, so somebody must ring")
    told_at = models.DateTimeField(null=True, blank=True, help_text="empty: still to be rung")
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["night", "person"]
        verbose_name_plural = "told"
        constraints = [
            models.UniqueConstraint(fields=["night", "person"], name="told_once_a_night"),
            models.CheckConstraint(
                condition=Q(has_email=False) | Q(told_at__isnull=False), name="a_letter_was_sent"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.person} told that {self.night} is off"
