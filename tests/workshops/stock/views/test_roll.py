"""What is left on a roll: worked out, shown, and written in the book as a difference."""

from __future__ import annotations

from uuid import uuid4

import pytest

from inventory.ledger.models import Entry
from inventory.ledger.queries import check, pieces_of
from inventory.materials.models import Item
from inventory.measures.lengths import feet
from tests.factories import make_item


@pytest.fixture
def wire(stock) -> Item:
    """Two rolls of a hundred feet."""
    wire = make_item(
        stock.shop, slug="wire", name="Wire", kind=Item.Kind.METAL, home=stock.rings.home,
        shape=Item.Shape.WIRE_MESH, wire_um=2_032, mesh="1 x 1 in", outside_um=None, wall_um=None,
        bought_length_um=feet(100),
    )  # fmt: skip
    stock.bring(wire, 2, feet(100))
    return wire


@pytest.fixture
def measure(wire, keeper, at):
    """Sends what was measured of the first roll."""

    def post(**fields: str):
        given = {"spot": wire.balances.filter(quantity__gt=0).first().pk, "key": str(uuid4())}
        return keeper.post(at("roll_left", "wire"), given | fields)

    return post


WOUND = {"outside": "20", "core": "4", "thickness": "1/4"}


def test_the_page_of_wire_leads_to_its_rolls(wire, keeper, at) -> None:
    page = keeper.get(at("item", "wire")).content.decode()
    assert "Whole rolls" in page
    assert at("roll_left", "wire") in page
    assert 'value="0.160 in"' in keeper.get(at("roll_left", "wire")).content.decode()


def test_it_is_shown_before_anything_is_written(wire, measure) -> None:
    page = measure(**WOUND).content.decode()
    assert "100 ft 6 in" in page
    assert "6 in more" in page
    assert not Entry.objects.filter(kind=Entry.Kind.COUNTED).exists()


def test_one_roll_of_two_becomes_as_long_as_it_is(shop, wire, measure) -> None:
    answer = measure(tape="61 ft", write="1", reason="a piece went for a gate")
    assert answer.status_code == 302
    assert pieces_of(wire) == [(feet(100), 1), (feet(61), 1)]
    entry = Entry.objects.get(kind=Entry.Kind.COUNTED)
    assert entry.reason == "measured by tape: a piece went for a gate"
    assert check(shop) == ()


def test_the_same_press_is_one_entry(wire, measure) -> None:
    key = str(uuid4())
    for _ in range(2):
        measure(tape="61 ft", write="1", key=key)
    assert pieces_of(wire) == [(feet(100), 1), (feet(61), 1)]


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({}, "Measure it, or give the length by tape."),
        ({"outside": "20", "core": "4"}, "Measure it, or give the length by tape."),
        (WOUND | {"core": "21"}, "larger than its core"),
        ({"tape": "long", "write": "1"}, "is not a length"),
        ({"tape": "100 ft", "write": "1"}, "as long as the book says"),
        ({"tape": "9 ft", "spot": "0", "write": "1"}, "not one of the available choices"),
    ],
)
def test_what_cannot_be_is_said_and_nothing_moves(wire, measure, fields, says) -> None:
    answer = measure(**fields)
    assert answer.status_code == 422
    assert says in answer.content.decode()
    assert pieces_of(wire) == [(feet(100), 2)]


def test_straw_has_no_roll(stock, keeper, at) -> None:
    assert keeper.get(at("roll_left", "straw")).status_code == 404
