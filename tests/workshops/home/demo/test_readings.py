"""What was probed in the demo's loft, and the one stack that calls for a look."""

from __future__ import annotations

from datetime import timedelta

from django.utils import timezone

from inventory.materials.models import Item
from inventory.places.models import Shop
from inventory.readings.models import Reading
from tests.workshops.home.demo.conftest import TODAY
from workshops.stock.straw import straw_alarms, straw_watch


def test_one_stack_is_warm_and_says_what_to_do(demo: Shop) -> None:
    (row,) = straw_alarms(demo, timezone.now())
    assert row.lot.words == "by the ladder"
    assert "probe every 12 hours" in row.heat.sentence
    assert "warmer than" in row.trend


def test_every_reading_lies_behind_us(demo: Shop) -> None:
    days = {TODAY - reading.probed_at.date() for reading in Reading.objects.filter(shop=demo)}
    assert len(days) == 4
    assert all(timedelta() <= since < timedelta(days=40) for since in days)


def test_the_volume_of_straw_and_hay_is_known(demo: Shop) -> None:
    assert straw_watch(demo, timezone.now()).fibre.unknown == ()


def test_gloves_come_in_two_sizes(demo: Shop) -> None:
    gloves = Item.objects.filter(shop=demo, name="Leather gloves")
    assert {item.size for item in gloves} == {"S", "L"}
