"""One reading of one lot. Append-only: a correction is a new reading that names the old one."""

from __future__ import annotations

import uuid
from decimal import Decimal

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone

from inventory.materials.models import Item
from inventory.measures.temperatures import fahrenheit
from inventory.places.models import OfShop, Place


class Reading(OfShop):
    """What a thermometer and a moisture probe said of a lot of straw or hay."""

    class Unit(models.TextChoices):
        FAHRENHEIT = "F", "°F"
        CELSIUS = "C", "°C"

    item = models.ForeignKey(Item, models.PROTECT, related_name="readings")
    place = models.ForeignKey(Place, models.PROTECT, related_name="readings")
    lot = models.CharField(
        max_length=60, blank=True, help_text="which stack: north wall, Tuesday's load"
    )
    # As it was read, in the degrees of the thermometer: turned into others only to compare.
    temperature = models.DecimalField(max_digits=4, decimal_places=1, null=True, blank=True)
    temperature_unit = models.CharField(max_length=1, choices=Unit.choices, default=Unit.FAHRENHEIT)
    moisture_percent = models.DecimalField(max_digits=4, decimal_places=1, null=True, blank=True)
    probed_at = models.DateTimeField(default=timezone.now)
    # Apart from "probed at": a note from the barn may be typed in next morning.
    recorded_at = models.DateTimeField(default=timezone.now, editable=False)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    note = models.CharField(max_length=200, blank=True)
    corrects = models.OneToOneField(
        "self", models.PROTECT, null=True, blank=True, related_name="correction"
    )
    reason = models.CharField(max_length=200, blank=True, help_text="why it is corrected")
    client_key = models.UUIDField(default=uuid.uuid4, editable=False)

    class Meta:
        ordering = ["-probed_at", "-pk"]
        indexes = [
            models.Index(
                fields=["shop", "item", "place", "lot", "-probed_at"], name="reading_of_lot"
            )
        ]
        constraints = [
            models.UniqueConstraint(fields=["shop", "client_key"], name="reading_key_once_a_shop"),
            models.CheckConstraint(
                condition=(
                    Q(temperature__isnull=False)
                    | Q(moisture_percent__isnull=False)
                    | Q(corrects__isnull=False)
                ),
                name="reading_says_something",
            ),
            models.CheckConstraint(
                condition=Q(moisture_percent__isnull=True)
                | Q(moisture_percent__gte=0, moisture_percent__lte=100),
                name="reading_moisture_of_a_hundred",
            ),
            models.CheckConstraint(
                condition=Q(corrects__isnull=True) | ~Q(reason=""),
                name="reading_correction_says_why",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.item} at {self.place}, {self.probed_at:%Y-%m-%d %H:%M}"

    @property
    def temperature_f(self) -> Decimal | None:
        """Degrees Fahrenheit, exactly; ``None`` when only the moisture was taken."""
        if self.temperature is None:
            return None
        return fahrenheit(self.temperature, self.temperature_unit)
