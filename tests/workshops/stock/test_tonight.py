"""What tonight still cuts: less what was tallied, less what lies cut, less what was ticked."""

from __future__ import annotations

import pytest
from django.utils import timezone

from inventory.cutting.actions import Asked, Done, cut, make_cut_list
from inventory.cutting.queries import in_use
from inventory.materials.queries import recipe_of
from inventory.measures.lengths import feet, inches
from tests.factories import make_night, make_operation, make_station
from tests.inventory.winter import Stock
from workshops.nights.actions import tally
from workshops.nights.models import Night, PlacingRun
from workshops.stations.models import Operation
from workshops.stock.tonight import cut_for_tonight, make_cut_lists, pieces_for


@pytest.fixture
def posts(stock: Stock) -> Operation:
    return make_operation(make_station(stock.shop), recipe_of(stock.post))


@pytest.fixture
def heads(stock: Stock) -> Operation:
    return make_operation(make_station(stock.shop), recipe_of(stock.head))


def planned(stock: Stock, **pieces: tuple[Operation, int]) -> Night:
    """A night whose plan makes so many of each operation."""
    night = make_night(stock.shop)
    rows = list(pieces.values())
    problem = {
        "stations": [{"id": str(row.station_id), "name": row.station.name} for row, _ in rows],
        "operations": [
            {"id": str(row.pk), "name": row.name, "station": str(row.station_id), "makes_count": 1}
            for row, _ in rows
        ],
    }
    made = {str(row.pk): [count] for row, count in rows}
    night.plan = PlacingRun.objects.create(
        shop=stock.shop, night=night, problem=problem, version="1", status="proven", seconds=0.1,
        result={"output": {"made": made}},
    )  # fmt: skip
    night.save()
    return night


def wanted(night: Night) -> list[tuple[str, int, int]]:
    return [piece for pieces in pieces_for(night).values() for piece in pieces.values()]


def test_a_night_without_a_plan_cuts_nothing(stock) -> None:
    told = cut_for_tonight(night=make_night(stock.shop), by=None)
    assert (told.runs, told.ready) == ((), ())


def test_a_set_is_told_by_the_parts_lists(stock, posts, heads) -> None:
    """One post and two head pieces a set, whatever the numbers of tonight have in common."""
    night = planned(stock, posts=(posts, 2), heads=(heads, 3))
    (run,) = make_cut_lists(night=night, by=None)
    told = {p["label"]: (p["count"], p["per_set"]) for p in run.problem["pieces"]}
    assert told == {"Post": (2, 1), "Head": (6, 2)}


def test_what_was_tallied_tonight_is_made(stock, posts, coordinator) -> None:
    night = planned(stock, posts=(posts, 4))
    assert wanted(night) == [("Post", feet(7), 4)]
    tally(night=night, operation=posts, good=3, by=coordinator, at=timezone.now())
    assert wanted(night) == [("Post", feet(7), 1)]


def test_a_night_that_made_more_than_planned_cuts_nothing(stock, posts, coordinator) -> None:
    night = planned(stock, posts=(posts, 2))
    tally(night=night, operation=posts, good=3, by=coordinator, at=timezone.now())
    assert cut_for_tonight(night=night, by=None).runs == ()


def test_pieces_cut_ahead_are_told_for_a_metal_without_a_list(stock, posts) -> None:
    stock.bring(stock.tube, 2, feet(7))
    told = cut_for_tonight(night=planned(stock, posts=(posts, 2)), by=None)
    assert told.runs == ()
    assert told.ready == ("Tube: 2 × Post (84 in) lie cut to length already: take them first.",)


def test_a_new_list_takes_the_place_of_one_that_was_part_cut(stock, posts) -> None:
    night = planned(stock, posts=(posts, 4))
    (first,) = make_cut_lists(night=night, by=None)
    cut(run=first, pattern=0, sticks=1, done=Done(by=None, at=timezone.now()))
    (second,) = make_cut_lists(night=night, by=None)
    first.refresh_from_db()
    assert first.replaced_by == second
    assert [(p["label"], p["count"]) for p in second.problem["pieces"]] == [("Post", 2)]
    assert in_use(stock.shop, night.date.isoformat()) == [second]


def test_two_kerfs_of_one_metal_are_both_in_use(stock, posts) -> None:
    from_rack = {"shop": stock.shop, "item": stock.tube, "pieces": [("Rod", inches(24), 4)]}
    sawn = make_list(**from_rack, kerf_um=inches("1/8"))
    make_list(**from_rack, kerf_um=0)
    sheared = make_list(**from_rack, kerf_um=0)
    assert in_use(stock.shop, "2026-01-14") == [sheared, sawn]


def make_list(*, kerf_um: int, **given):
    return make_cut_list(by=None, asked=Asked(night_key="2026-01-14", kerf_um=kerf_um), **given)
