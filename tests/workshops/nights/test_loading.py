"""A night is loaded in a fixed number of queries; what is made counts what is there."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from inventory.ledger.actions import goods_in
from inventory.measures.lengths import feet, inches
from tests.conftest import NOW
from tests.factories import (
    make_night,
    make_operation,
    make_person,
    make_place,
    make_recipe,
    make_station,
)
from workshops.nights import actions
from workshops.nights.loading import last_stations, likes_of, load, load_making
from workshops.nights.models import Placing

pytestmark = pytest.mark.usefixtures("material")


def queries_of(step) -> int:
    with CaptureQueriesContext(
        connection,
    ) as caught:
        step()
    return len(caught)


def test_loading_takes_as_many_queries_for_twice_the_people(scene) -> None:
    few = queries_of(lambda: load(scene.night).problem())
    for number in range(12):
        scene.join(f"Guest{number}", (scene.drill, 2))
        make_station(scene.shop)
    many = queries_of(lambda: load(scene.night).problem())
    assert few == many <= 13


def test_what_is_made_is_loaded_in_few_queries(scene) -> None:
    few = queries_of(lambda: load_making(scene.shop).runs)
    for _ in range(5):
        make_operation(scene.tag)
    assert queries_of(lambda: load_making(scene.shop).runs) == few <= 7


def making_of(scene, name: str):
    key = str(scene.operations[name].pk)
    return next(run for run in load_making(scene.shop).runs if run.id == key)


def test_an_operation_takes_half_made_things_and_material_apart(scene) -> None:
    run, stock = making_of(scene, "tag"), scene.stock
    assert run.uses == {str(item.pk): 1 for item in (stock.post, stock.head, stock.cylinder)}
    assert run.materials == {}


def test_a_metal_cut_to_two_lengths_counts_millimetres_with_the_saw_cut(scene) -> None:
    post, head = making_of(scene, "drill"), making_of(scene, "weld")
    tube = str(scene.stock.tube.pk)
    assert post.materials[tube] == -(-(feet(7) + inches("1/8")) // 1000)
    assert head.materials[tube] == 2 * -(-(inches(20) + inches("1/8")) // 1000)


def test_two_lengths_of_one_metal_in_one_recipe_are_added_up(scene) -> None:
    tube = scene.stock.tube
    leg = make_recipe(make_station_item(scene), (tube, 1, feet(3)), (tube, 2, feet(1)))
    operation = make_operation(scene.tag, leg)
    run = next(run for run in load_making(scene.shop).runs if run.id == str(operation.pk))
    each = [-(-(feet(length) + inches("1/8")) // 1000) for length in (3, 1)]
    assert run.materials[str(tube.pk)] == each[0] + 2 * each[1]


def make_station_item(scene):
    from_rack = type(scene.stock.post)
    return from_rack.objects.create(shop=scene.shop, slug="leg", name="Leg", kind="rack")


def test_fill_counts_in_thousandths(scene) -> None:
    straw = str(scene.stock.straw.pk)
    assert making_of(scene, "roll").materials[straw] == 250
    there = {each.id: each.on_hand for each in load_making(scene.shop).materials}
    assert there[straw] == 5_000


def test_sets_on_the_shelf_do_not_count_against_what_is_wanted(scene) -> None:
    actions.set_aims(shop=scene.shop, wanted={scene.stock.complete.pk: 12})
    actions.tally(
        night=scene.night, operation=scene.operations["tag"], at=scene.at("19:00"), by=None, good=4
    )
    [kind] = load_making(scene.shop).sets
    assert kind.wanted == 12  # eight still to make, and the four that are there


def test_before_the_season_has_said_every_set_is_wanted(scene) -> None:
    [kind] = load_making(scene.shop).sets
    assert kind.wanted == 100


def test_an_operation_that_takes_what_nobody_makes_is_left_out(scene) -> None:
    scene.operations["weld"].is_in_use = False
    scene.operations["weld"].save()
    names = {run.name for run in load_making(scene.shop).runs}
    assert names == {"Make Post", "Make Cylinder"}


def test_the_stations_of_the_last_weeks_come_latest_first(scene) -> None:
    ada = scene.people["Ada"]
    for days, station in ((7, scene.drill), (14, scene.tag), (40, scene.weld)):
        night = make_night(scene.shop, date=scene.night.date - timedelta(days=days), blocks=1)
        Placing.objects.create(night=night, block=night.blocks.get(), person=ada, station=station)
    assert last_stations(scene.night) == {ada.pk: (str(scene.drill.pk), str(scene.tag.pk))}


def test_likes_are_of_those_who_answered(scene) -> None:
    scene.people["Dee"].likes.add(scene.tag, scene.roll)
    make_person(scene.shop).likes.add(scene.tag)
    assert {key: set(value) for key, value in likes_of(scene.night).items()} == {
        scene.people["Dee"].pk: {str(scene.tag.pk), str(scene.roll.pk)}
    }


def test_a_drop_too_short_for_a_post_counts_for_the_shorter_piece_alone(scene) -> None:
    tube = scene.stock.tube
    long, short = f"{tube.pk}-{feet(7)}", str(tube.pk)
    before = {each.id: each.on_hand for each in load_making(scene.shop).materials}
    goods_in(
        shop=scene.shop, item=tube, quantity=Decimal(1), place=make_place(scene.shop),
        length_um=feet(5), source="a gift", is_donated=True, by=None, at=NOW,
    )  # fmt: skip
    after = {each.id: each.on_hand for each in load_making(scene.shop).materials}
    assert after[long] == before[long]
    assert after[short] > before[short]
