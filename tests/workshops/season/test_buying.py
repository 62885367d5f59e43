"""What must still be bought, worked out by hand: one set takes a post, a head and a cylinder."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from inventory.deliveries import ordering
from inventory.deliveries.expected import expected
from inventory.deliveries.ordering import Asked
from inventory.measures.lengths import feet, inches
from tests.factories import make_shop
from tests.inventory.winter import AT
from tests.workshops.nights.scene import make_scene
from workshops.nights.loading import load_making
from workshops.season.buying import if_ordered_now, on_their_way, shortages

TODAY = date(2026, 1, 14)


def short_of(season, sets: int) -> dict[str, int]:
    """Shortages by the name of the material."""
    making = load_making(season.shop)
    names = {material.id: material.name for material in making.materials}
    found = shortages(making, {season.scene.stock.complete.pk: sets})
    return {names[key]: count for key, count in found.items()}


def each_mm(length_um: int) -> int:
    """Millimetres of tube that one piece takes with its cut, rounded up."""
    return -(-(length_um + inches("1/8")) // 1000)


def test_nothing_is_short_of_nothing(season, material) -> None:
    assert short_of(season, 0) == {}


def test_straw_is_short_after_what_is_there_with_one_in_ten_more_for_scrap(
    season, material
) -> None:
    # 100 sets and ten more take a quarter bale each: 27.5 bales, and five are there.
    assert short_of(season, 100)["Straw"] == 22_500


def test_tube_is_counted_in_millimetres_of_both_pieces(season, material) -> None:
    wanted = 110 * (each_mm(feet(7)) + 2 * each_mm(inches(20)))
    # A stick of 20 ft gives eleven pieces of 20 in with their cuts, at most.
    assert short_of(season, 100)["Tube"] == wanted - 20 * 11 * each_mm(inches(20))


def test_long_pieces_are_short_of_sticks_that_are_long_enough(season, material) -> None:
    wanted = 110 * each_mm(feet(7))
    assert short_of(season, 100)["Tube, 84 in or longer"] == wanted - 20 * 2 * each_mm(feet(7))


def test_what_stands_on_the_rack_is_used_first(season, material) -> None:
    before = short_of(season, 100)["Straw"]
    season.make("roll", 8)
    # Eight cylinders took two bales from the shelf and save as many: no less is short.
    assert short_of(season, 100)["Straw"] == before


def test_finished_sets_are_not_taken_off_twice(season, material) -> None:
    before = short_of(season, 100)
    season.make("tag", 3)
    after = short_of(season, 100)
    assert after["Straw"] >= before["Straw"]


def test_what_is_ordered_now_comes_after_its_lead_time_in_whole_packs(season, material) -> None:
    tube = season.scene.stock.tube
    found = if_ordered_now(
        load_making(season.shop), {season.scene.stock.complete.pk: 100}, today=TODAY
    )
    order = next(each for each in found if each.item == str(tube.pk))
    assert order.date == "2026-01-21"
    a_pack = 5 * 11 * each_mm(inches(20))
    assert order.quantity % a_pack == 0
    assert order.quantity - a_pack < short_of(season, 100)["Tube"] <= order.quantity


def test_straw_sold_once_a_year_is_never_counted_on(season, material) -> None:
    found = if_ordered_now(
        load_making(season.shop), {season.scene.stock.complete.pk: 100}, today=TODAY
    )
    assert str(season.scene.stock.straw.pk) not in {each.item for each in found}


def order(season, item, quantity: int, expected_on: date | None) -> None:
    lines = [Asked(item, Decimal(quantity))]
    row = ordering.draft(
        shop=season.shop, supplier="Reed & Sons", by=None, at=AT, lines=lines
    )  # fmt: skip
    ordering.send(order=row, on=date(2026, 1, 2), by=None, expected_on=expected_on)


def test_what_is_on_order_is_counted_on_from_its_day_and_not_bought_again(season, material) -> None:
    straw, left = season.scene.stock.straw, {season.scene.stock.complete.pk: 100}
    order(season, straw, 30, date(2026, 1, 20))
    making, coming = load_making(season.shop), expected(season.shop)
    (arrival,) = on_their_way(making, coming, today=TODAY)
    assert (arrival.item, arrival.quantity) == (str(straw.pk), 30_000)
    assert arrival.date == "2026-01-20"
    order_tube = order_of(season, making, left, coming)
    assert order_tube == order_of(season, making, left, ())


def order_of(season, making, left, coming) -> int:
    found = if_ordered_now(making, left, today=TODAY, coming=coming)
    return next(each.quantity for each in found if each.item == str(season.scene.stock.tube.pk))


def test_sticks_on_order_lower_what_is_ordered_now(season, material) -> None:
    left, making = {season.scene.stock.complete.pk: 100}, load_making(season.shop)
    before = order_of(season, making, left, ())
    order(season, season.scene.stock.tube, 10, date(2026, 1, 20))
    after = order_of(season, making, left, expected(season.shop))
    assert before - after == 10 * 11 * each_mm(inches(20))


def test_a_late_order_is_not_counted_on_and_not_bought_again(season, material) -> None:
    order(season, season.scene.stock.straw, 30, date(2026, 1, 10))
    making, coming = load_making(season.shop), expected(season.shop)
    assert on_their_way(making, coming, today=TODAY) == ()


def test_a_shop_with_nothing_in_store_is_short_of_everything(db) -> None:
    scene = make_scene(make_shop(slug="bare"), people=False)
    making = load_making(scene.shop)
    found = shortages(making, {scene.stock.complete.pk: 1})
    # One set and one for scrap.
    assert found[str(scene.stock.straw.pk)] == 2 * 250
