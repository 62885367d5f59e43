"""Who worked where, and who is asked the day after."""

from __future__ import annotations

from decimal import Decimal
from uuid import uuid4

import pytest

from inventory.deliveries.actions import Arrival, receive
from inventory.deliveries.arrivals import Measured
from inventory.deliveries.models import Received
from inventory.measures.lengths import feet
from tests.factories import make_part, make_sheet
from tests.inventory.winter import AT
from workshops.nights import actions as nights
from workshops.stations.models import BuildSheet, SheetPart
from workshops.trouble.actions import Closing, ask_day_after
from workshops.trouble.exposure import to_ask, worked_where, zinc_in_the_shop

pytestmark = pytest.mark.django_db


@pytest.fixture
def weld_and_watch(scene, put) -> None:
    """Bo welds until ten to eight, with Cy on the watch."""
    put("Cy", "watch")
    put("Bo", "weld", 0, 1)


@pytest.fixture
def zinc(scene) -> None:
    """The tube of which heads are welded came galvanised."""
    tube, shop = scene.stock.tube, scene.shop
    sheet = make_sheet(
        shop, status=BuildSheet.Status.IN_FORCE, in_force_from="2025-10-01",
        welds=[{"part": "bar", "onto": "stem", "at_um": 0, "part_at_um": 1000, "kind": "weld"}],
    )  # fmt: skip
    for slug in ("stem", "bar"):
        part = make_part(shop, name=slug, stock=tube, role=slug)
        part.item.slug = slug
        part.item.save()
        SheetPart.objects.create(sheet=sheet, part=part)
    receive(
        shop=shop, source="A farm", is_donated=True, by=None, at=AT, client_key=uuid4(),
        lines=[Arrival(item=tube, quantity=Decimal(3), length_um=feet(20),
                       measured=Measured(finish=Received.Finish.GALVANISED))],
    )  # fmt: skip


def told(scene) -> dict[str, tuple[str, int]]:
    return {
        f"{each.name} {each.station.name}": (each.spans, each.minutes)
        for each in worked_where(scene.night)
    }


def test_blocks_in_a_row_are_one_stretch(scene, put) -> None:
    put("Dee", "tag")
    assert told(scene) == {"Dee R. Tag": ((("18:30", "20:30"),), 120)}


def test_only_the_minutes_on_the_roll_count(scene, put) -> None:
    put("Dee", "tag")
    nights.sign_in(night=scene.night, person=scene.people["Dee"], at=scene.at("19:00"))
    nights.sign_out(night=scene.night, person=scene.people["Dee"], at=scene.at("20:00"))
    assert told(scene)["Dee R. Tag"] == ((("19:00", "20:00"),), 60)


def test_who_was_taken_out_worked_there_until_the_station_was_closed(scene, put, happen) -> None:
    put("Ada", "drill")
    happen("19:30")
    assert told(scene)["Ada R. Drill"] == ((("18:30", "19:30"),), 60)


def test_a_report_that_leaves_the_station_open_counts_nothing_twice(scene, put, happen) -> None:
    put("Ada", "drill")
    happen("19:30", closing=Closing.OPEN)
    assert told(scene)["Ada R. Drill"][1] == 120


def test_who_welded_is_asked_and_who_drilled_is_not(scene, weld_and_watch, put) -> None:
    put("Ada", "drill")
    found = to_ask(scene.night)
    assert [(each.name, each.did) for each in found] == [("Bo R.", "welded for 80 minutes")]
    assert found[0].told == (
        "See a doctor, and say: steel was welded for 80 minutes: fever 3 to 10 hours later is"
        " known of zinc fume."
    )


def test_zinc_in_the_shop_is_told_to_the_doctor(scene, weld_and_watch, zinc) -> None:
    assert zinc_in_the_shop(scene.night) == "galvanised Tube"
    found = to_ask(scene.night)[0]
    assert found.did == "welded for 80 minutes, with galvanised Tube in the shop"
    assert "zinc-coated steel may have been welded for 80 minutes" in found.told


def test_who_handled_straw_is_asked_of_dust(scene, put) -> None:
    put("Dee", "roll", 0)
    put("Eli", "roll", 0)
    found = to_ask(scene.night)
    assert {each.did for each in found} == {"handled straw or hay for 40 minutes"}
    assert "illness 4 to 6 hours later" in found[0].told


def test_the_latest_answer_stands(scene, weld_and_watch) -> None:
    for answer in ("not_reached", "fine"):
        ask_day_after(
            night=scene.night, person=scene.people["Bo"], answer=answer, told="", asked_by="Dov",
            at=scene.at("20:50"),
        )  # fmt: skip
    assert to_ask(scene.night)[0].last.answer == "fine"


def test_a_night_without_placings_asks_nobody(scene, django_assert_max_num_queries) -> None:
    with django_assert_max_num_queries(4):
        assert to_ask(scene.night) == []


def test_more_people_take_no_more_queries(
    scene, weld_and_watch, put, django_assert_max_num_queries
) -> None:
    put("Dee", "roll", 0)
    put("Eli", "roll", 0)
    with django_assert_max_num_queries(12):
        to_ask(scene.night)
