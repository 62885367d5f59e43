"""Readings are written once, refused when they cannot be, and corrected by another."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal
from uuid import uuid4

import pytest
from django.db import IntegrityError, transaction

from inventory.readings.actions import ReadingRefused, correct_reading
from inventory.readings.models import Reading
from inventory.readings.queries import counting, log_of
from tests.factories import make_item, make_place
from tests.inventory.readings.conftest import NOW


def test_a_reading_is_kept_as_it_was_read_and_compared_in_fahrenheit(probe) -> None:
    kept = probe("65.6", unit="C", moisture_percent=Decimal("17.5"), lot=" north wall ")
    assert (kept.temperature, kept.temperature_unit, kept.lot) == (
        Decimal("65.6"),
        "C",
        "north wall",
    )
    assert kept.temperature_f == Decimal("150.08")


def test_the_same_press_is_one_reading(probe) -> None:
    key = uuid4()
    assert probe("90", client_key=key) == probe("90", client_key=key)
    assert Reading.objects.count() == 1


@pytest.mark.parametrize(
    ("fields", "field"),
    [
        ({}, "temperature"),
        ({"temperature": Decimal(3000)}, "temperature"),
        ({"temperature": Decimal("90.55")}, "temperature"),
        ({"temperature": Decimal(90), "unit": "K"}, "temperature"),
        ({"moisture_percent": Decimal(101)}, "moisture_percent"),
        ({"temperature": Decimal(90), "at": NOW + timedelta(days=3)}, "probed_at"),
    ],
)
def test_what_cannot_be_is_refused_and_its_field_named(probe, fields, field) -> None:
    with pytest.raises(ReadingRefused) as refused:
        probe(**fields)
    assert refused.value.field == field
    assert not Reading.objects.exists()


def test_only_straw_and_hay_of_the_shop_are_probed(shop, other_shop, probe) -> None:
    for given in ({"item": make_item(shop)}, {"place": make_place(other_shop)}):
        with pytest.raises(ReadingRefused):
            probe("90", **given)


def test_a_correction_stands_in_its_place_and_the_log_keeps_both(shop, probe) -> None:
    wrong = probe("190")
    right = correct_reading(wrong, reason="read upside down", by=None, temperature=Decimal(106))
    assert list(counting(shop)) == [right]
    assert (right.probed_at, right.corrects) == (wrong.probed_at, wrong)
    assert set(log_of(shop)) == {wrong, right}


def test_a_correction_without_values_takes_the_reading_back(shop, probe) -> None:
    correct_reading(probe("190"), reason="the oven, not the stack", by=None)
    assert not counting(shop).exists()
    assert log_of(shop).count() == 2


def test_a_correction_is_sent_twice_and_written_once(probe) -> None:
    wrong, key = probe("190"), uuid4()
    for _ in range(2):
        correct_reading(wrong, reason="typed", by=None, client_key=key)
    assert Reading.objects.count() == 2


def test_a_reading_is_corrected_once_and_with_a_reason(probe) -> None:
    wrong = probe("190")
    with pytest.raises(ReadingRefused, match="Say why"):
        correct_reading(wrong, reason=" ", by=None)
    correct_reading(wrong, reason="typed", by=None)
    with pytest.raises(ReadingRefused, match="corrected before"):
        correct_reading(wrong, reason="typed", by=None)


def test_the_database_itself_refuses_a_reading_that_says_nothing(shop, straw) -> None:
    with pytest.raises(IntegrityError), transaction.atomic():
        Reading.objects.create(shop=shop, item=straw, place=straw.home)
