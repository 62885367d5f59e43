"""What happened? Told in a minute by whoever sees the night; leads close and reopen."""

from __future__ import annotations

from uuid import uuid4

import pytest

from tests.factories import make_tool
from workshops.nights import actions as nights
from workshops.nights.models import Placing
from workshops.stations.models import StationStop
from workshops.trouble.models import Trouble

pytestmark = pytest.mark.django_db
PAGE = "/teal-point/nights/2026-01-14/trouble/"


def told(**given) -> dict[str, object]:
    return {"kind": "hurt", "closing": "reopened", "client_key": str(uuid4())} | given


def test_the_page_begins_with_the_emergency_services_and_defers_to_local_rules(scene, lead) -> None:
    text = lead.get(PAGE).text
    assert text.index("Call the emergency services first.") < text.index('name="kind"')
    assert "your local rules say" in text


def test_a_lead_tells_it_and_the_station_is_closed(scene, lead, put) -> None:
    put("Ada", "drill")
    given = told(station=scene.drill.pk, what="cut hand", people=[scene.people["Ada"].pk])
    text = lead.post(PAGE, given, follow=True).text
    assert "Drill is closed for every plan, and Ada R. stand there no more" in text
    row = Trouble.objects.get()
    assert (row.by.username, row.what, row.at) == ("dov", "cut hand", scene.at("19:30"))
    assert list(row.people.all()) == [scene.people["Ada"]]


def test_two_presses_are_enough(scene, lead) -> None:
    lead.post(PAGE, told(kind="near_miss"))
    assert (Trouble.objects.get().what, StationStop.objects.count()) == ("", 0)


def test_without_a_kind_it_is_asked_again(scene, lead) -> None:
    answer = lead.post(PAGE, told(kind=""))
    assert (answer.status_code, Trouble.objects.count()) == (422, 0)
    assert "Press one of the four" in answer.text


def test_a_double_press_is_one_report(scene, lead) -> None:
    given = told(station=scene.drill.pk)
    for _ in range(2):
        lead.post(PAGE, given)
    assert (Trouble.objects.count(), StationStop.objects.count()) == (1, 1)


def test_a_broken_tool_leaves_service_and_prints_its_tag(scene, lead, shop) -> None:
    tool = make_tool(shop, scene.drill, name="Drill press", number="7")
    text = lead.post(
        PAGE, told(kind="broken", what="chuck slips", tool=tool.pk, closing="open"), follow=True
    ).text
    assert "<strong>Do not use</strong> Drill press, no. 7" in text
    tool.refresh_from_db()
    assert tool.out_of_service == 1


def test_a_volunteer_tells_it_but_closes_nothing_and_sees_no_names(
    scene, volunteer, client_of, put
) -> None:
    put("Ada", "drill")
    nights.sign_in(night=scene.night, person=scene.people["Ada"], at=scene.at("18:00"))
    client = client_of(volunteer)
    assert "Ada R." not in client.get(PAGE).text
    given = told(station=scene.drill.pk, people=[scene.people["Ada"].pk])
    assert "is not one of the available choices" in client.post(PAGE, given).text
    text = client.post(PAGE, told(station=scene.drill.pk), follow=True).text
    assert "Tell the duty lead as well." in text
    assert (Trouble.objects.get().stop, Placing.objects.count()) == (None, 3)


def test_who_is_in_the_building_may_be_named(scene, lead) -> None:
    nights.sign_in(night=scene.night, person=scene.people["Bo"], at=scene.at("18:00"))
    text = lead.get(PAGE).text
    assert f'value="{scene.people["Bo"].pk}"> Bo R.' in text
    assert "Ada R." not in text


def test_a_lead_reopens_it_by_name_with_a_reason(scene, lead, happen) -> None:
    stop = happen().trouble.stop
    url = f"{PAGE}stops/{stop.pk}/reopen/"
    assert "stays closed" in lead.post(url, {"why": ""}, follow=True).text
    assert "Name one of those" in lead.post(url, {"why": "guard is back"}, follow=True).text
    assert "Ada R.</option>" in lead.get(PAGE).text
    given = {"why": "guard is back", "lead": scene.people["Ada"].pk}
    assert "Drill is open again." in lead.post(url, given, follow=True).text
    stop.refresh_from_db()
    assert (stop.reopened_by, stop.reopened_why) == ("Ada Reed", "guard is back")


@pytest.mark.parametrize("who", ["volunteer", "authoriser", "reader"])
def test_nobody_else_reopens_it(scene, happen, client_of, who, request) -> None:
    stop = happen().trouble.stop
    client = client_of(request.getfixturevalue(who))
    answer = client.post(f"{PAGE}stops/{stop.pk}/reopen/", {"why": "x"})
    assert answer.status_code == 403


def test_the_night_shows_the_closed_station(scene, lead, happen, put) -> None:
    put("Ada", "drill", 0)
    happen("19:30")
    text = lead.get("/teal-point/nights/2026-01-14/").text
    assert "Somebody hurt (closed at 19:30 by Dov, until a lead reopens it)" in text
