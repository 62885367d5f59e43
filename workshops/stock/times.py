"""When a thing happened, from the day that a person chose."""

from __future__ import annotations

from datetime import date, datetime, time

from django.utils import timezone

from inventory.places.models import Shop
from workshops.nights import clock

NOON = time(12)


def today_in(shop: Shop) -> date:
    """The day it is in the shop."""
    return clock.today_in(shop, timezone.now()).date()


def moment_of(day: date | None, shop: Shop) -> datetime:
    """Now for today or no day; noon of an earlier day, which nobody remembers closer."""
    if day is None or day == today_in(shop):
        return timezone.now()
    return datetime.combine(day, NOON, tzinfo=shop.zone)
