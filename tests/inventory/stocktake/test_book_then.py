"""What the book said at the moment of a count, as it is known now."""

from __future__ import annotations

from decimal import Decimal

import pytest

from inventory.ledger import actions as ledger
from inventory.stocktake.book_then import book_then, spot_of
from inventory.stocktake.models import CountLine, CountSheet
from tests.inventory.stocktake.conftest import NINE, Scene, after, line, put

pytestmark = pytest.mark.django_db


def booked(sheet: CountSheet, row: CountLine) -> Decimal:
    """What the book had at the row's first count."""
    found = book_then([sheet.place], [row])
    return found.at(spot_of(row, sheet.place), row.first_at)


@pytest.fixture
def sheet(scene: Scene) -> CountSheet:
    """The shelf, its rings counted ten minutes after nine."""
    sheet = scene.sheet()
    put(sheet, 1, {scene.rings: 30}, 10)
    return sheet


def test_what_happens_after_the_count_is_not_in_the_book_then(scene, sheet) -> None:
    scene.take(scene.rings, 7, 11)
    assert booked(sheet, line(sheet, scene.rings)) == 30


def test_what_happened_before_and_is_typed_in_after_counts_as_before(scene, sheet) -> None:
    scene.take(scene.rings, 7, 9)
    assert booked(sheet, line(sheet, scene.rings)) == 23


def test_what_happens_at_the_very_moment_counts_as_before(scene, sheet) -> None:
    scene.take(scene.rings, 7, 10)
    assert booked(sheet, line(sheet, scene.rings)) == 23


def test_a_correction_stands_at_the_time_of_what_it_takes_back(scene, sheet) -> None:
    twice = scene.bring(scene.rings, 5)
    ledger.correct(twice, reason="written twice", by=None, at=after(30))
    assert booked(sheet, line(sheet, scene.rings)) == 30


def test_a_correction_of_something_later_leaves_the_book_then_alone(scene, sheet) -> None:
    used = scene.take(scene.rings, 5, 20)
    ledger.correct(used, reason="not used", by=None, at=after(30))
    assert booked(sheet, line(sheet, scene.rings)) == 30


def test_other_places_and_conditions_are_kept_apart(scene, sheet) -> None:
    ledger.hold(
        shop=scene.shop, item=scene.rings, quantity=Decimal(4), place=scene.shelf,
        reason="rusty", by=None, at=after(5),
    )  # fmt: skip
    assert booked(sheet, line(sheet, scene.rings)) == 26


def test_a_spot_that_the_book_never_had_is_nothing(scene, sheet) -> None:
    row = line(sheet, scene.rings)
    assert book_then([scene.rack], [row]).at(spot_of(row, scene.rack), NINE) == 0


def test_the_book_takes_two_queries_however_many_lines(
    scene, sheet, django_assert_num_queries
) -> None:
    put(sheet, 1, {scene.straw: 8}, 12)
    rows = list(sheet.lines.all())
    with django_assert_num_queries(2):
        book_then([scene.shelf, scene.rack], rows)


def test_without_a_count_the_past_is_not_asked(scene, django_assert_num_queries) -> None:
    rows = list(scene.sheet().lines.all())
    with django_assert_num_queries(1):
        book_then([scene.shelf], rows)
