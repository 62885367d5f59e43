"""Lots with their last rounds, whichever spot was the warmest, and the log."""

from __future__ import annotations

from decimal import Decimal

import pytest

from inventory.ledger.actions import scrap
from inventory.readings.queries import log_of, lots_of, probed_lots, reading_of
from tests.inventory.readings.conftest import NOW


def test_a_lot_that_was_never_probed_is_there_without_a_reading(shop, straw) -> None:
    (lot,) = lots_of(shop)
    assert (lot.item, lot.place, lot.last, lot.warmest) == (straw, straw.home, None, None)


def test_the_warmest_spot_of_a_round_counts_and_not_the_last(shop, probe) -> None:
    for minutes, degrees in ((40, "118"), (30, "163.5"), (20, "121")):
        probe(degrees, hours_ago=minutes / 60)
    probe("140", hours_ago=26)
    (lot,) = probed_lots(shop)
    assert lot.warmest.temperature == Decimal("163.5")
    assert lot.warmest_before.temperature == 140


def test_degrees_of_two_thermometers_are_compared(shop, probe) -> None:
    probe("70", unit="C", hours_ago=0.2)
    probe("120")
    assert probed_lots(shop)[0].warmest.temperature_unit == "C"


def test_the_dampest_spot_is_told_even_when_the_last_probe_was_of_heat(shop, probe) -> None:
    probe(moisture_percent=Decimal(24), hours_ago=3)
    probe(moisture_percent=Decimal(17), hours_ago=2.5)
    probe("90")
    assert probed_lots(shop)[0].dampest.moisture_percent == 24


def test_stacks_in_one_place_are_told_apart_by_their_words(shop, probe) -> None:
    probe("90", lot="north wall")
    probe("95", lot="by the door")
    assert {lot.words for lot in lots_of(shop)} == {"north wall", "by the door"}


def test_a_lot_of_which_nothing_is_left_is_no_longer_watched(shop, straw, probe) -> None:
    probe("90")
    scrap(
        shop=shop, item=straw, quantity=Decimal(20), place=straw.home, reason="spread on the field",
        by=None, at=NOW,
    )  # fmt: skip
    assert lots_of(shop) == []
    assert log_of(shop).count() == 1


@pytest.mark.parametrize("times", [1, 2])
def test_lots_take_two_queries_however_long_the_log(
    shop, probe, django_assert_num_queries, times
) -> None:
    for n in range(20 * times):
        probe("90", lot=f"stack {n % 4}", hours_ago=n)
    with django_assert_num_queries(2):
        assert len(lots_of(shop)) == 4


def test_a_reading_of_another_shop_is_not_found(shop, other_shop, probe) -> None:
    kept = probe("90")
    assert reading_of(shop, kept.pk) == kept
    assert reading_of(other_shop, kept.pk) is None
