"""A reading stays as it was written, past the site's own code as well."""

from __future__ import annotations

from datetime import UTC, datetime
from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from inventory.materials.models import Item
from inventory.readings.actions import correct_reading, take_reading
from inventory.readings.models import Reading
from tests.factories import make_item, make_place

AT = datetime(2026, 1, 10, 9, 0, tzinfo=UTC)


@pytest.fixture
def reading(shop) -> Reading:
    """A stack at 160 °F."""
    straw = make_item(shop, kind=Item.Kind.FILL, home=make_place(shop))
    return take_reading(
        shop=shop, item=straw, place=straw.home, by=None, at=AT, temperature=Decimal(160)
    )


def test_a_reading_is_not_made_cooler(reading: Reading) -> None:
    with pytest.raises(IntegrityError, match="append-only"), transaction.atomic():
        Reading.objects.filter(pk=reading.pk).update(temperature=Decimal(60))
    reading.refresh_from_db()
    assert reading.temperature == 160


def test_a_reading_is_not_deleted(reading: Reading) -> None:
    with pytest.raises(IntegrityError, match="append-only"), transaction.atomic():
        reading.delete()
    assert Reading.objects.exists()


def test_a_reading_is_corrected_all_the_same(reading: Reading) -> None:
    correct_reading(reading, reason="misread", temperature=Decimal(60), by=None)
    assert Reading.objects.count() == 2
