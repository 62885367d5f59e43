"""A night's times as minutes after midnight, and back."""

from __future__ import annotations

from datetime import datetime, time

from inventory.places.models import Shop
from workshops.nights.models import Night


def minutes(at: time) -> int:
    """Minutes after midnight."""
    return at.hour * 60 + at.minute


def spell(minute: int) -> str:
    """A minute after midnight as a clock shows it: ``20:15``; after midnight it starts anew."""
    hours, rest = divmod(minute % (24 * 60), 60)
    return f"{hours:02}:{rest:02}"


def minutes_of(at: datetime, night: Night) -> int:
    """Minutes from the midnight that began the night's date, in the shop's time."""
    local = at.astimezone(night.shop.zone)
    return (local.date() - night.date).days * 24 * 60 + minutes(local.time())


def moment(night: Night, at: time) -> datetime:
    """A time of the night as an aware moment."""
    return datetime.combine(night.date, at, tzinfo=night.shop.zone)


def today_in(shop: Shop, now: datetime) -> datetime:
    """The moment in the shop's own time."""
    return now.astimezone(shop.zone)
