"""Items, parts lists and places are described in the site."""

from __future__ import annotations

from decimal import Decimal

import pytest

from inventory.materials.models import Item, Recipe
from inventory.materials.queries import recipe_of
from inventory.measures.lengths import feet, inches
from inventory.places.models import Place
from tests.factories import make_item, make_place

METAL = {
    "name": "Leg tube", "kind": "metal", "unit": "each", "shape": "square_tube", "keep_at_least": 0,
    "outside_um": "1 1/2", "wall_um": "0.083 in", "kerf_um": "1/8", "keep_um": "1 ft",
    "bought_length_um": "20 ft", "pack_size": 5, "lead_days": 10,
}  # fmt: skip


@pytest.fixture
def browser(shop, coordinator, client_of, clock):
    return client_of(coordinator)


def test_a_tube_is_added_with_its_lengths(shop, keeper, at, clock) -> None:
    answer = keeper.post(at("add_item"), METAL)
    made = Item.objects.get()
    assert answer.headers["Location"] == at("item", "leg-tube")
    assert (made.outside_um, made.kerf_um, made.keep_um) == (inches("3/2"), inches("1/8"), feet(1))
    assert made.trim_um == 0


@pytest.mark.parametrize(
    ("field", "typed"),
    [("name", ""), ("kind", "gold"), ("outside_um", "wide"), ("wall_um", "2 in"),
     ("pack_size", "0"), ("pack_size", "-1"), ("lead_days", "soon"), ("unit_price", "1e30"),
     ("last_order_on", "whenever"), ("shape", ""), ("home", "999999"),
     ("kerf_um", "9" * 30), ("keep_at_least", "-3"), ("pack_name", "p" * 20), ("size", "L" * 30)],
)  # fmt: skip
def test_nonsense_names_its_field_and_adds_nothing(keeper, at, clock, field, typed) -> None:
    answer = keeper.post(at("add_item"), METAL | {field: typed})
    assert answer.status_code == 422
    assert field in answer.context["form"].errors
    assert not Item.objects.exists()


RACK = {"name": "Post, cut", "kind": "rack", "unit": "each", "keep_at_least": 0}
STRAW = {
    "name": "Straw", "kind": "fill", "unit": "bale", "keep_at_least": 0, "pack_size": 1,
    "lead_days": 5, "bale_length_um": "36 in", "bale_width_um": "18 in", "bale_height_um": "14",
    "bale_weight_g": "40.5",
}  # fmt: skip


def test_first_the_kind_is_asked_and_then_only_what_fits_it(keeper, at, clock) -> None:
    first = keeper.get(at("add_item")).content.decode()
    assert 'href="?kind=fill"' in first
    assert "<form method" not in first.partition("<main")[2]
    asked = {kind: set(keeper.get(at("add_item"), {"kind": kind}).context["form"].fields)
             for kind in ("metal", "fill", "small", "rack", "set")}  # fmt: skip
    assert "bale_weight_g" in asked["fill"] - asked["metal"]
    assert "wall_um" in asked["metal"] - asked["fill"]
    assert "group" in asked["small"] - asked["rack"]
    assert asked["rack"] == asked["set"] | {"rack_limit"}


def test_a_rack_that_holds_nonsense_is_refused(keeper, at, clock) -> None:
    answer = keeper.post(at("add_item"), RACK | {"rack_limit": "9" * 25})
    assert "rack_limit" in answer.context["form"].errors


def test_a_bale_is_kept_in_micrometres_and_grams_and_shown_as_it_was_typed(keeper, at, clock):
    assert keeper.post(at("add_item"), STRAW).status_code == 302
    kept = Item.objects.get()
    assert (kept.bale_length_um, kept.bale_weight_g) == (inches(36), 18_370)
    assert 'value="40.5"' in keeper.get(at("edit_item", "straw")).content.decode()


@pytest.mark.parametrize("field", ["bale_length_um", "bale_height_um", "bale_weight_g"])
def test_half_a_bale_is_asked_for_the_rest(keeper, at, clock, field) -> None:
    answer = keeper.post(at("add_item"), STRAW | {field: ""})
    assert "give all four" in str(answer.context["form"].errors[field])


def test_gloves_of_two_sizes_are_two_things(keeper, at, clock) -> None:
    gloves = {"name": "Gloves", "kind": "small", "unit": "pair", "keep_at_least": 2,
              "pack_size": 12, "lead_days": 6, "group": "wear"}  # fmt: skip
    for size in ("M", "L"):
        assert keeper.post(at("add_item"), gloves | {"size": size}).status_code == 302
    assert {str(item) for item in Item.objects.all()} == {"Gloves, M", "Gloves, L"}


@pytest.mark.parametrize("name", ["Leg tube", "leg  TUBE", "???"])
def test_a_name_that_gives_no_address_of_its_own_is_refused(keeper, at, clock, name) -> None:
    keeper.post(at("add_item"), METAL)
    answer = keeper.post(at("add_item"), METAL | {"name": name})
    assert "add a word" in str(answer.context["form"].errors["name"])
    assert Item.objects.count() == 1


def test_a_place_of_another_shop_is_no_home(keeper, at, clock, other_shop) -> None:
    foreign = make_place(other_shop)
    answer = keeper.post(at("add_item"), METAL | {"home": foreign.pk})
    assert "home" in answer.context["form"].errors


def test_an_item_is_described_anew_and_its_kind_stays(shop, keeper, at, clock) -> None:
    keeper.post(at("add_item"), METAL)
    sent = METAL | {"supplier": "The yard", "kind": "small"}
    assert keeper.post(at("edit_item", "leg-tube"), sent).status_code == 302
    kept = Item.objects.get()
    assert (kept.supplier, kept.kind, kept.slug) == ("The yard", Item.Kind.METAL, "leg-tube")


def test_what_is_shown_to_edit_is_kept_when_sent_back(stock, keeper, at) -> None:
    form = keeper.get(at("edit_item", "tube")).context["form"]
    sent = {field.html_name: field.value() for field in form if field.value() not in ("", None)}
    del sent["is_one_chance"]  # a box without a tick sends nothing
    before = Item.objects.filter(pk=stock.tube.pk).values().get()
    assert keeper.post(at("edit_item", "tube"), sent).status_code == 302
    assert Item.objects.filter(pk=stock.tube.pk).values().get() == before


def test_a_parts_list_is_put_in_use_and_the_one_before_kept(stock, keeper, at) -> None:
    before = recipe_of(stock.cylinder)
    sent = {"makes": 2, "item0": stock.straw.pk, "quantity0": "0.5",
            "item1": stock.tube.pk, "quantity1": 3, "length1": "34"}  # fmt: skip
    assert keeper.post(at("parts_list", "cylinder"), sent).status_code == 302
    now = recipe_of(stock.cylinder)
    lines = [(line.item, line.quantity, line.length_um) for line in now.lines.all()]
    assert lines == [(stock.straw, Decimal("0.5"), 0), (stock.tube, Decimal(3), inches(34))]
    assert Recipe.objects.filter(pk=before.pk, is_in_use=False).exists()


@pytest.mark.parametrize(
    ("row", "field"),
    [({"item0": "straw"}, "quantity0"), ({"item0": "tube", "quantity0": 2}, "length0"),
     ({"item0": "", "quantity0": 2}, "item0"), ({"item0": "straw", "quantity0": "-1"}, "quantity0"),
     ({"item0": "straw", "quantity0": "many"}, "quantity0"), ({"makes": "0"}, "makes"),
     ({"item0": "foreign", "quantity0": 1}, "item0"),
     ({"item0": "tube", "quantity0": 1, "length0": "long"}, "length0")],
)  # fmt: skip
def test_a_wrong_row_is_named_and_the_old_list_stays(
    stock, keeper, at, other_shop, row, field
) -> None:
    before = recipe_of(stock.cylinder)
    known = {"straw": stock.straw.pk, "tube": stock.tube.pk, "foreign": make_item(other_shop).pk}
    sent = {name: known.get(value, value) for name, value in ({"makes": 1} | row).items()}
    answer = keeper.post(at("parts_list", "cylinder"), sent)
    assert answer.status_code == 422
    assert field in answer.context["form"].errors
    assert recipe_of(stock.cylinder) == before


def test_nothing_is_made_of_itself(stock, keeper, at) -> None:
    sent = {"makes": 1, "item0": stock.cylinder.pk, "quantity0": 1}
    assert keeper.post(at("parts_list", "cylinder"), sent).status_code == 422


def test_a_place_is_added_once_though_it_is_sent_twice(shop, keeper, at, clock) -> None:
    for _ in range(2):
        assert keeper.post(at("add_place"), {"name": "Loft"}).status_code == 302
    assert [place.name for place in Place.objects.filter(shop=shop)] == ["Loft"]


def test_an_item_of_another_shop_is_not_found(browser, at, other_shop) -> None:
    foreign = make_item(other_shop, slug="far-away")
    for page in ("edit_item", "parts_list"):
        assert browser.get(at(page, foreign.slug)).status_code == 404
