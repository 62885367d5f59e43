"""Writing readings down, once each; a wrong one is corrected by another and never changed."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal
from typing import Any
from uuid import UUID, uuid4

from django.contrib.auth.base_user import AbstractBaseUser
from django.db import transaction
from django.utils import timezone

from inventory.materials.models import Item
from inventory.measures.temperatures import TemperatureRefused, fahrenheit
from inventory.places.models import Place, Shop
from inventory.readings.models import Reading


class ReadingRefused(ValueError):
    """A reading that cannot be: ``field`` says which value, the sentence why."""

    def __init__(self, field: str, reason: str) -> None:
        self.field = field
        super().__init__(reason)


@transaction.atomic
def take_reading(
    *,
    shop: Shop,
    item: Item,
    place: Place,
    by: AbstractBaseUser | None,
    at: datetime,
    lot: str = "",
    temperature: Decimal | None = None,
    unit: str = Reading.Unit.FAHRENHEIT,
    moisture_percent: Decimal | None = None,
    note: str = "",
    client_key: UUID | None = None,
) -> Reading:
    """Note what was probed, in the degrees of the thermometer.

    Raises
    ------
    ReadingRefused
        When nothing was read, a value is none of a stack, it lies in the future, or the
        item or place is of another shop or no straw or hay.
    """
    if item.shop_id != shop.pk or place.shop_id != shop.pk:
        raise ReadingRefused("item", "The item or its place belongs to another shop.")
    if item.kind != Item.Kind.FILL:
        raise ReadingRefused("item", f"{item} is neither straw nor hay.")
    if temperature is None and moisture_percent is None:
        raise ReadingRefused("temperature", "Give the temperature, the moisture, or both.")
    _refuse_values(temperature, unit, moisture_percent, at)
    told = {
        "item": item, "place": place, "lot": lot.strip(), "note": note.strip(), "probed_at": at,
    }  # fmt: skip
    told |= _values(temperature, unit, moisture_percent, by)
    return _once(shop, client_key, told)


@transaction.atomic
def correct_reading(
    reading: Reading,
    *,
    reason: str,
    by: AbstractBaseUser | None,
    temperature: Decimal | None = None,
    unit: str = Reading.Unit.FAHRENHEIT,
    moisture_percent: Decimal | None = None,
    client_key: UUID | None = None,
) -> Reading:
    """Put other values in the place of a reading, or none: then it counts no more.

    The old reading stays as it was written; the new one stands for the same moment.

    Raises
    ------
    ReadingRefused
        Without a reason, for impossible values, or when it was corrected before.
    """
    # One at a time: two people who correct one reading must not both succeed. (SQLite's
    # IMMEDIATE transactions wait for each other already.)
    Reading.objects.select_for_update().only("pk").get(pk=reading.pk)
    # Asked first: sent a second time, it would be refused as corrected already.
    if client_key is not None:
        sent = Reading.objects.filter(shop=reading.shop, client_key=client_key).first()
        if sent is not None:
            return sent
    if not reason.strip():
        raise ReadingRefused("reason", "Say why the reading is corrected.")
    if Reading.objects.filter(corrects=reading).exists():
        raise ReadingRefused("reason", "This reading was corrected before: correct the newer one.")
    _refuse_values(temperature, unit, moisture_percent, reading.probed_at)
    told = {
        "item": reading.item, "place": reading.place, "lot": reading.lot, "note": reading.note,
        "probed_at": reading.probed_at, "corrects": reading, "reason": reason.strip(),
    }  # fmt: skip
    told |= _values(temperature, unit, moisture_percent, by)
    return _once(reading.shop, client_key, told)


def _values(
    temperature: Decimal | None, unit: str, moisture: Decimal | None, by: AbstractBaseUser | None
) -> dict[str, Any]:
    return {
        "temperature": temperature, "temperature_unit": unit, "moisture_percent": moisture,
        "by_id": by.pk if by else None,
    }  # fmt: skip


def _once(shop: Shop, client_key: UUID | None, told: dict[str, Any]) -> Reading:
    """The reading under that key: written now, or found when it was sent before."""
    key = client_key or uuid4()
    reading, _ = Reading.objects.get_or_create(shop=shop, client_key=key, defaults=told)
    return reading


def _refuse_values(
    temperature: Decimal | None, unit: str, moisture: Decimal | None, at: datetime
) -> None:
    if unit not in Reading.Unit.values:
        raise ReadingRefused("temperature", "The thermometer reads °F or °C.")
    if temperature is not None:
        if temperature % Decimal("0.1"):
            raise ReadingRefused("temperature", "A tenth of a degree is fine enough.")
        try:
            fahrenheit(temperature, unit)
        except TemperatureRefused as refused:
            raise ReadingRefused("temperature", str(refused)) from refused
    if moisture is not None and not 0 <= moisture <= 100:
        raise ReadingRefused("moisture_percent", "Moisture is 0 to 100 in a hundred.")
    if at > timezone.now():
        raise ReadingRefused("probed_at", "This lies ahead: say when it was probed.")
