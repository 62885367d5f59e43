"""The item page says of each kind what is asked of that kind."""

from __future__ import annotations

from decimal import Decimal

import pytest

from inventory.ledger.actions import goods_in, hold
from inventory.materials.models import Item
from inventory.measures.lengths import feet, inches
from inventory.places.models import Shop
from tests.factories import make_item, make_operation, make_recipe, make_sheet, make_station
from tests.inventory.winter import AT
from tests.workshops.stations.geometry.sheets import CYLINDER
from workshops.stations.models import BuildSheet


@pytest.fixture
def shown(keeper, at):
    """The page of an item as text."""

    def read(slug: str) -> str:
        return keeper.get(at("item", slug)).content.decode()

    return read


def describe(item: Item, **fields: object) -> None:
    Item.objects.filter(pk=item.pk).update(**fields)


def test_a_tube_weighs_by_length_as_bought_and_all_in_all(stock, shown) -> None:
    describe(stock.tube, outside_um=inches("1 1/2"), wall_um=inches("0.083"))
    page = shown("tube")
    assert "1.601 lb a foot" in page
    assert "32.0 lb for" in page
    assert "64.0 lb" in page
    assert "rounded" in page


def test_a_metric_shop_reads_kilograms(shop, stock, shown) -> None:
    Shop.objects.filter(pk=shop.pk).update(units="mm")
    describe(stock.tube, shape="round_rod", outside_um=10_000, wall_um=None)
    assert "0.62 kg a metre" in shown("tube")


def test_conduit_says_that_it_is_weighed_by_its_nominal_size(stock, shown) -> None:
    sizes = {"outside_um": inches("0.922"), "wall_um": inches("0.049")}
    describe(stock.tube, shape="conduit", **sizes)
    page = shown("tube")
    assert "nominal" in page
    assert "43.5 lb for 100 ft" in page


def test_whole_sticks_and_drops_stand_apart_longest_first_and_to_scale(stock, shown) -> None:
    for length in (inches(40), feet(5)):
        stock.bring(stock.tube, 1, length)
    page = shown("tube")
    whole, drops = page.index("Whole sticks"), page.index("Drops</h4>")
    assert whole < page.index("2 × 240 in") < drops < page.index("1 × 60 in")
    assert page.index("1 × 60 in") < page.index("1 × 40 in")
    assert 'width="25"' in page


def test_a_piece_of_a_wanted_length_is_cut_ahead_and_no_drop(stock, shown) -> None:
    make_recipe(make_item(stock.shop), (stock.tube, 1, inches(34)))
    stock.bring(stock.tube, 3, inches(34))
    page = shown("tube")
    assert page.index("Cut ahead</h4>") < page.index("3 × 34 in")
    assert "Drops</h4>" not in page


def test_moving_starts_with_the_spot_that_was_pressed(stock, keeper, at) -> None:
    spot = stock.tube.balances.get()
    page = keeper.get(at("set_aside", "tube"), {"spot": spot.pk}).content.decode()
    assert f'<option value="{spot.pk}" selected>' in page


def test_bales_are_said_as_weight_and_room_and_as_what_they_fill(stock, shown) -> None:
    sizes = {
        "bale_length_um": inches(36),
        "bale_width_um": inches(18),
        "bale_height_um": inches(14),
    }
    describe(stock.straw, bale_weight_g=18_370, loose_g_per_litre=60, **sizes)
    make_sheet(
        stock.shop, status=BuildSheet.Status.IN_FORCE, in_force_from="2026-01-01",
        drawing_number="NC-31", drawn=CYLINDER.to_json(),
    )  # fmt: skip
    page = shown("straw")
    for says in ("40.5 lb", "5.25 cu ft", "7.71 lb a cubic foot", "Room shaken loose"):
        assert says in page
    assert "by the parts list of Cylinder</span><strong>4</strong>" in page
    assert "by drawing NC-31" in page
    assert "as wrap" in page


def test_without_a_bale_its_measures_are_asked_for(stock, shown) -> None:
    assert "Measure and weigh one bale" in shown("straw")


def test_supplies_show_size_group_and_packs(stock, shown) -> None:
    gloves = make_item(
        stock.shop, slug="gloves", name="Gloves", size="L", kind=Item.Kind.SMALL, unit="pair",
        group=Item.Group.WEAR, pack_size=6, pack_name="box", home=stock.rings.home,
    )  # fmt: skip
    stock.bring(gloves, 13)
    page = shown("gloves")
    assert "Gloves, L" in page
    assert "gloves, glasses and masks" in page
    assert "about 2 × box of 6" in page


def test_a_half_made_thing_says_between_which_stations_it_lies(stock, shown) -> None:
    weld, tag = make_station(stock.shop, name="Weld"), make_station(stock.shop, name="Tag bench")
    make_operation(weld, stock.head.recipes.get(), name="Weld the head")
    make_operation(tag, stock.complete.recipes.get(), name="Put together")
    page = shown("head")
    assert "made by Weld the head" in page
    assert "waits for Put together" in page


def test_finished_and_on_hold_stand_apart(stock, shown) -> None:
    goods_in(
        shop=stock.shop, item=stock.head, quantity=Decimal(9), place=stock.head.home,
        source="The other shop", is_donated=True, by=None, at=AT,
    )  # fmt: skip
    hold(
        shop=stock.shop, item=stock.head, quantity=Decimal(4), place=stock.head.home,
        reason="cold weld", by=None, at=AT,
    )  # fmt: skip
    page = shown("head")
    assert "look at them before they are used" in page
    assert "decide<span" in page
