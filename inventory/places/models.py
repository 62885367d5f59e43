"""Shop, room, storage place, and the base of every row that belongs to a shop."""

from __future__ import annotations

from zoneinfo import ZoneInfo, available_timezones

from django.core.exceptions import ValidationError
from django.db import models

from inventory.measures.lengths import Units


def check_time_zone(name: str) -> None:
    """Refuse a time zone the machine does not know."""
    if name not in available_timezones():
        raise ValidationError(f"“{name}” is not a time zone. Write one like America/Chicago.")


class Shop(models.Model):
    """One club's workshop: how it tells the time, measures and prints."""

    class UnitChoice(models.TextChoices):
        INCH = "in", "inches and fractions"
        MILLIMETRE = "mm", "millimetres"

    class PaperSize(models.TextChoices):
        LETTER = "letter", "Letter"
        A4 = "a4", "A4"

    name = models.CharField(max_length=80)
    # In every address, so it keeps to letters that need no escaping there.
    slug = models.SlugField(max_length=40, unique=True)
    time_zone = models.CharField(max_length=40, default="UTC", validators=[check_time_zone])
    units = models.CharField(max_length=2, choices=UnitChoice.choices, default=UnitChoice.INCH)
    # Kept with the shop and not the printer: the cards are laid out before anybody prints.
    paper_size = models.CharField(max_length=6, choices=PaperSize.choices, default=PaperSize.LETTER)
    currency = models.CharField(max_length=3, default="USD")

    class Meta:
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name

    @property
    def zone(self) -> ZoneInfo:
        """The shop's time zone."""
        return ZoneInfo(self.time_zone)

    @property
    def length_units(self) -> Units:
        """How lengths are read and spelled here."""
        return Units(self.units)


class OfShop(models.Model):
    """A row that belongs to one shop and is seen by its people only."""

    shop = models.ForeignKey(Shop, models.CASCADE)

    class Meta:
        abstract = True

    def get_additional_data(self) -> dict[str, int]:
        """What the trail of changes keeps beside a row: whose it is."""
        return {"shop": self.shop_id}


class Room(OfShop):
    """A room of the shop: hot work and straw never share one on the same night."""

    name = models.CharField(max_length=60)

    class Meta:
        ordering = ["name"]
        constraints = [
            models.UniqueConstraint(fields=["shop", "name"], name="room_name_once_a_shop")
        ]

    def __str__(self) -> str:
        return self.name


class Place(OfShop):
    """Where things are kept: a rack, a shelf, the yard, the loft."""

    name = models.CharField(max_length=60)
    room = models.ForeignKey(Room, models.SET_NULL, null=True, blank=True)
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["name"]
        constraints = [
            models.UniqueConstraint(fields=["shop", "name"], name="place_name_once_a_shop")
        ]

    def __str__(self) -> str:
        return self.name
