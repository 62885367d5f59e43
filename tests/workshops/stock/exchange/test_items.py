"""The list of items: new, described anew, as it is, or refused with the reason."""

from __future__ import annotations

from decimal import Decimal

import pytest

from inventory.materials.models import Item
from inventory.measures.lengths import feet, inches
from inventory.places.models import Place
from tests.workshops.stock.exchange.conftest import only, told
from workshops.stock.exchange.fates import Change

HEAD = ["Key", "Name", "Kind", "Section", "Wall", "Side or diameter", "Supplier", "Kept at"]


def test_each_row_is_new_changed_or_as_it_is(look, stock) -> None:
    rows = [["Name", "Kind", "Supplier"], ["Tube", "metal", "Reed & Sons"],
            ["Straw", "", "Hill Farm"], ["Whiskers", "small", ""]]  # fmt: skip
    preview = look("items", rows)
    assert told(preview) == [(2, "same"), (3, "changed"), (4, "new")]
    assert preview.plan.fates[1].changes == (Change("Supplier", "", "Hill Farm"),)
    assert preview.plan.fates[2].says == "Its key will be whiskers."


def test_all_of_it_is_written_with_exact_lengths_and_prices(bring, write, stock) -> None:
    rows = [
        ["Name", "Kind", "Section", "Side or diameter", "Wall", "Bought so long", "Price of one"],
        ["Thin tube", "metal", "square tube", "1 1/2 in", "0.083 in", "20 ft", "31.25"],
        ["Tube", "", "", "2 in", "", "24 ft", ""],
    ]
    rows[2][2] = "square tube"
    assert write(bring("items", rows)).is_written
    thin = Item.objects.get(slug="thin-tube")
    assert (thin.outside_um, thin.wall_um) == (inches("1 1/2"), 2108)
    assert (thin.unit_price, thin.bought_length_um) == (Decimal("31.25"), feet(20))
    stock.tube.refresh_from_db()
    assert (stock.tube.bought_length_um, stock.tube.unit_price) == (feet(24), None)


def test_a_key_lets_an_item_be_renamed(bring, write, stock) -> None:
    write(bring("items", [["Key", "Name"], ["straw", "Flax straw"]]))
    stock.straw.refresh_from_db()
    assert (stock.straw.slug, stock.straw.name) == ("straw", "Flax straw")


def test_an_empty_cell_clears_what_may_be_empty_and_leaves_the_rest(bring, write, stock) -> None:
    write(bring("items", [["Name", "Supplier", "Counted in", "In a pack"], ["Tube", "", "", ""]]))
    stock.tube.refresh_from_db()
    assert (stock.tube.supplier, stock.tube.unit, stock.tube.pack_size) == ("", "each", 5)


@pytest.mark.parametrize(
    ("row", "says"),
    [
        (["", "Tube", "small"], "its kind stays"),
        (["", "Whiskers", ""], "A new item says its kind"),
        (["", "Whiskers", "wood"], "“wood” is none of"),
        (["", "", "small"], "Name: fill it in"),
        (["", "Rod", "metal"], "Section: fill it in"),
        (["", "Rod", "metal", "round rod", "1 in", "1 in"], "less than half"),
        (["", "S" * 90, "small"], "at most 80"),
        (["not a key", "Whiskers", "small"], "Key:"),
        (["", "Straw!", "small"], "would be that of Straw"),
        (["", "Whiskers", "small", "", "", "", "", "Attic"], "There is no place “Attic”"),
    ],
)
def test_a_row_that_cannot_be_says_why(look, stock, row, says) -> None:
    fate = only(look("items", [HEAD, row]))
    assert fate.fate == "refused"
    assert says in fate.says


def test_one_item_in_two_rows_is_refused(look, stock) -> None:
    preview = look("items", [["Name", "Kind"], ["Straw", ""], ["STRAW", ""], ["Bow", "small"],
                             ["bow", "small"]])  # fmt: skip
    assert told(preview) == [(2, "same"), (3, "refused"), (4, "new"), (5, "refused")]
    assert "Row 2 is about the same item" in preview.plan.fates[1].says


def test_two_sizes_of_one_name_are_two_items(bring, write, look, stock) -> None:
    rows = [["Name", "Size", "Kind"], ["Gloves", "L", "small"], ["Gloves", "XL", "small"]]
    assert write(bring("items", rows)).is_written
    assert told(look("items", rows)) == [(2, "same"), (3, "same")]
    ambiguous = only(look("items", [["Name", "Supplier"], ["Gloves", "x"]]))
    assert "Write the key of one: gloves-l, gloves-xl." in ambiguous.says


def test_a_place_that_is_not_there_is_offered_and_added_with_the_rest(bring, write, look, stock,
                                                                      shop) -> None:  # fmt: skip
    rows = [["Name", "Kept at"], ["Straw", "Attic"], ["Rings", "attic"]]
    assert look("items", rows).plan.lacks_places == ("Attic",)
    preview = look("items", rows, places=True)
    assert preview.plan.adds_places == ("Attic",)
    assert not Place.objects.filter(name="Attic").exists()
    assert write(bring("items", rows, places=True)).is_written
    stock.straw.refresh_from_db()
    assert stock.straw.home == Place.objects.get(shop=shop, name="Attic")


def test_twice_as_many_items_take_no_more_queries(look, stock, django_assert_num_queries) -> None:
    for count in (20, 40):
        rows = [["Name", "Kind"], *([f"Thing {n}", "small"] for n in range(count))]
        with django_assert_num_queries(6):  # the four that keep the file, and two
            look("items", rows)
