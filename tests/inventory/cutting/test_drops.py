"""Heaps of drops: read from the book, with proposals that hold when they are recounted."""

from __future__ import annotations

from datetime import timedelta

import pytest

from inventory.cutting.drops import PieceUse, heaps_of, left_of, pieces_in, proposals
from inventory.ledger import actions as ledger
from inventory.materials.models import Item
from inventory.materials.queries import recipe_of
from inventory.measures.lengths import Units, feet, inches
from tests.factories import make_item, make_recipe
from tests.inventory.cutting.conftest import AT
from tests.inventory.winter import Stock

SINCE = AT - timedelta(weeks=12)


@pytest.fixture
def wire(stock: Stock) -> Item:
    """Wire by the roll of 100 ft, cut at 88 in without a blade."""
    wire = make_item(
        stock.shop, name="Wire", slug="wire", kind=Item.Kind.METAL, bought_length_um=feet(100),
        kerf_um=0, keep_um=inches(12), shape="", outside_um=None, wall_um=None,
    )  # fmt: skip
    roll = make_item(stock.shop, name="Rolled wire", slug="rolled", home=stock.post.home)
    make_recipe(roll, (wire, 1, inches(88)))
    stock.rolled = roll  # type: ignore[attr-defined]
    return wire


def roll_up(stock: Stock, wire: Item, rolls: int, at=AT) -> None:
    """Whole rolls cut up: 13 pieces each."""
    stock.bring(wire, rolls, feet(100))
    recipe = recipe_of(stock.rolled)  # type: ignore[attr-defined]
    for _ in range(rolls):
        ledger.make(shop=stock.shop, recipe=recipe, good=13, by=None, at=at)


def test_the_drop_of_every_roll_piles_up(stock, wire) -> None:
    roll_up(stock, wire, 4)
    (heap,) = heaps_of(stock.shop, SINCE)
    assert (heap.item, heap.length_um, heap.lying, heap.came, heap.went) == (
        wire, inches(56), 4, 4, 0
    )  # fmt: skip
    assert heap.metal_um == 4 * inches(56)


def test_two_of_a_length_are_no_heap_yet(stock, wire) -> None:
    roll_up(stock, wire, 2)
    assert heaps_of(stock.shop, SINCE) == []


def test_old_drops_that_do_not_grow_are_let_be(stock, wire) -> None:
    roll_up(stock, wire, 4, at=AT - timedelta(weeks=20))
    assert heaps_of(stock.shop, SINCE, wire) == []


def test_pieces_of_a_parts_list_are_no_drops(stock, wire) -> None:
    roll_up(stock, wire, 4)
    patch = make_item(stock.shop, name="Patch", slug="patch")
    make_recipe(patch, (wire, 1, inches(56)))
    assert heaps_of(stock.shop, SINCE, wire) == []


def test_the_number_of_questions_does_not_grow(stock, wire, django_assert_num_queries) -> None:
    roll_up(stock, wire, 4)
    with django_assert_num_queries(3):
        heaps_of(stock.shop, SINCE)


def uses(*lengths: tuple[str, object], is_in_use: bool = True) -> list[PieceUse]:
    return [PieceUse(name, inches(um), is_in_use) for name, um in lengths]  # type: ignore[arg-type]


def told(wire: Item, *more: PieceUse) -> list[str]:
    return proposals(wire, inches(56), [*uses(("Cylinder", 88)), *more], Units.INCH)


def test_another_roll_length_is_proposed_with_what_it_leaves(stock, wire) -> None:
    left = {rolls: left_of(wire, feet(rolls), inches(88)) for rolls in (50, 100, 150, 200)}
    assert left == {50: inches(72), 100: inches(56), 150: inches(40), 200: inches(24)}
    assert "Ask for 200 ft instead of 100 ft: 27 × Cylinder, 24 in is left." in told(wire)


def test_another_piece_length_is_proposed_and_really_fits(stock, wire) -> None:
    says = " ".join(told(wire))
    assert "allows 92 1/4 in, longer than 88 in, 13 come off each: 3/4 in is left" in says
    assert "allows 85 5/8 in, shorter than 88 in, 14 come off each: 1 1/4 in is left" in says
    assert 13 * inches("92 1/4") + inches("3/4") == feet(100)
    assert 14 * inches("85 5/8") + inches("1 1/4") == feet(100)


def test_a_variant_that_fits_the_drop_is_proposed_first(stock, wire) -> None:
    says = told(wire, *uses(("Short cylinder", 52), is_in_use=False))
    assert says[0].startswith("Each gives 1 × Short cylinder, 52 in (a parts list not in use now)")


def test_a_mix_that_leaves_less_is_proposed(stock, wire) -> None:
    """11 of 88 in and 2 of 116 in: 968 + 232 fill 1,200 in to the end."""
    says = told(wire, *uses(("Double cylinder", 116)))
    mix = "Cut 11 × Cylinder (88 in) and 2 × Double cylinder (116 in) from each: nothing is left."
    assert mix in says


def test_repairs_are_always_a_way_out(stock, wire) -> None:
    assert told(wire)[-1].endswith("keep them together for repairs.")
    says = proposals(wire, inches(41), [], Units.MILLIMETRE)
    assert says[0].startswith("No parts list takes this length")


def test_the_last_piece_needs_no_cut(stock) -> None:
    """24 in from 20 ft: ten without a kerf, nine with one, as in the trade."""
    rod = make_item(stock.shop, kind=Item.Kind.METAL, kerf_um=0)
    assert pieces_in(rod, feet(20), inches(24)) == 10
    rod.kerf_um = inches("1/8")
    assert pieces_in(rod, feet(20), inches(24)) == 9
