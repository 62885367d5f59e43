"""Loading again what is there."""

from __future__ import annotations

from datetime import date

from inventory.ledger.models import Entry
from inventory.places.models import Shop
from workshops.home.demo.load import demo_shop, load_demo
from workshops.nights.models import Night


def test_a_second_load_does_nothing(demo: Shop) -> None:
    before = (Entry.objects.count(), Night.objects.count())
    assert load_demo(today=date(2030, 6, 1)) == demo
    assert (Entry.objects.count(), Night.objects.count()) == before


def test_the_demo_is_found_by_its_name(demo: Shop) -> None:
    assert demo_shop() == demo
