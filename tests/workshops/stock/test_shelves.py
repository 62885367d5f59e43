"""Words and long lengths of the stock page."""

from __future__ import annotations

from decimal import Decimal

import pytest

from inventory.ledger.queries import OnHand
from inventory.materials.models import Item
from inventory.measures.lengths import Units, feet, inches, millimetres
from workshops.stock.shelves import far
from workshops.stock.standing import Standing, standing_of


@pytest.mark.parametrize(
    ("micrometres", "units", "said"),
    [
        (0, Units.INCH, ""),
        (feet(20), Units.INCH, "20 ft"),
        (feet(20) + inches(6), Units.INCH, "20 ft 6 in"),
        (feet(2) - 1_000, Units.INCH, "2 ft"),
        (millimetres(12_345), Units.MILLIMETRE, "12.34 m"),
        (millimetres(6_050), Units.MILLIMETRE, "6.05 m"),
    ],
)
def test_a_long_length_is_said_as_people_say_it(micrometres: int, units: Units, said: str) -> None:
    assert far(micrometres, units) == said


def row(good: int, **fields: object) -> OnHand:
    item = Item(pk=1, kind=Item.Kind.SMALL, **fields)
    return OnHand(item, Decimal(good), Decimal(0), ())


@pytest.mark.parametrize(
    ("there", "is_used", "after", "standing"),
    [
        (row(0), True, None, Standing("closed", "none left")),
        (row(0), False, None, None),
        (row(2, keep_at_least=3), False, None, Standing("short", "below 3")),
        (row(3, keep_at_least=3), False, None, Standing("open", "enough")),
        (row(9), True, {1: 12}, Standing("short", "for 12 more sets")),
        (row(9), True, {}, Standing("open", "enough")),
        (row(9), True, None, None),
        (row(9, rack_limit=9), False, None, Standing("short", "rack full")),
    ],
)
def test_an_item_stands_as_its_numbers_say(there, is_used, after, standing) -> None:
    assert standing_of(there, is_used=is_used, after_sets=after) == standing
