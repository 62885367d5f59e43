"""Inspections of tools: kept, shown, and a caution unless the club closes for it."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from inventory.places.models import Shop
from tests.conftest import NOW
from tests.factories import TODAY, make_station, make_tool
from tests.workshops.nights.scene import make_scene
from workshops.access.models import User
from workshops.club.actions import set_rule
from workshops.nights import actions as nights
from workshops.nights.board import board_for
from workshops.nights.refusals import PlacingRefused
from workshops.paper.cards import cards_for
from workshops.stations.actions import record_inspection
from workshops.stations.models import Station, Tool, ToolInspection
from workshops.stations.refusals import ToolRefused

pytestmark = pytest.mark.usefixtures("clock")


@pytest.fixture
def welder(shop: Shop) -> Tool:
    return make_tool(
        shop, make_station(shop, name="Wire", kind=Station.Kind.SPOT_WELD), name="Spot welder"
    )


def record(tool: Tool, **told: Any) -> ToolInspection:
    usual = {"on": TODAY, "inspected_by": "Lindholm Electric", "by": None, "at": NOW}
    return record_inspection(tool=tool, **(usual | told))


def test_each_inspection_is_kept_and_the_last_one_counts(welder: Tool):
    record(welder, on=date(2025, 1, 10), found="one clamp replaced")
    record(welder)
    welder.refresh_from_db()
    assert welder.inspected_on == TODAY
    assert [row.found for row in welder.inspections.all()] == ["", "one clamp replaced"]


@pytest.mark.parametrize(("told", "word"), [
    ({"on": date(2026, 1, 15)}, "still to come"), ({"inspected_by": " "}, "who looked"),
    ({"months": -1}, "months"), ({"on": date(2025, 1, 1)}, "later"),
])  # fmt: skip
def test_what_cannot_be_is_refused(welder: Tool, told: Any, word: str):
    record(welder, on=date(2025, 6, 1))
    with pytest.raises(ToolRefused, match=word):
        record(welder, **told)


def test_the_pages_say_what_is_overdue_and_take_the_inspection(
    shop: Shop, welder: Tool, coordinator: User, client_of: Any
):
    client = client_of(coordinator)
    for page in ("stations/", "tools/", f"stations/{welder.stations.get().pk}/"):
        assert "inspection overdue" in client.get(f"/teal-point/{page}").content.decode()
    sent = {"on": "2026-01-14", "inspected_by": "Lindholm Electric"}
    client.post(f"/teal-point/tools/{welder.pk}/inspections/", sent)
    page = client.get("/teal-point/tools/").content.decode()
    assert "next inspection by 14 Jan 2027" in page
    assert "inspection overdue" not in page


def overdue_at_the_drill(shop: Shop) -> Any:
    scene = make_scene(shop)
    make_tool(shop, scene.drill, name="Old press", inspection_months=12)
    return scene


def test_an_inspection_overdue_is_a_caution_on_the_card_and_closes_nothing(shop: Shop):
    scene = overdue_at_the_drill(shop)
    nights.place(
        night=scene.night, block=scene.blocks[0], person=scene.people["Ada"], station=scene.drill
    )
    card = next(each for each in cards_for(scene.night) if each.station == scene.drill)
    assert any("Old press: inspection overdue" in row["text"] for row in card.cautions)
    assert not [each for each in board_for(scene.night).breaches if each.rule == "out_of_service"]


def test_the_club_may_make_it_out_of_service_until_it_is_inspected(shop: Shop):
    scene = overdue_at_the_drill(shop)
    set_rule(
        shop=shop, key="overdue_stops", value=True, decided_by="B", decided_on=TODAY, source="m",
        by=None,
    )  # fmt: skip
    at_the_drill = {
        "night": scene.night, "block": scene.blocks[0], "person": scene.people["Ada"],
        "station": scene.drill,
    }  # fmt: skip
    with pytest.raises(PlacingRefused, match="inspection overdue"):
        nights.place(**at_the_drill)
    record(Tool.objects.get(name="Old press"))
    nights.place(**at_the_drill)
