"""A deputy closes the night: steps by name, the racks, and a hand-over that is read first."""

from __future__ import annotations

from datetime import date

import pytest

from tests.factories import make_night, make_tool
from tests.workshops.nights.scene import bring_material, make_scene
from workshops.nights import actions
from workshops.nights.models import HandOver, Night

pytestmark = pytest.mark.django_db
NIGHT = "/teal-point/nights/2026-01-14"


@pytest.fixture
def scene(shop, clock):
    """Tonight with posts drilled, and a drill out of service."""
    scene = make_scene(shop)
    bring_material(scene)
    actions.tally(
        night=scene.night, operation=scene.operations["drill"], at=scene.at("18:00"), by=None,
        good=7, hold=2,
    )  # fmt: skip
    make_tool(shop, scene.drill, name="Big drill", out_of_service=1, fault="chuck slips")
    return scene


@pytest.fixture
def lead(duty_lead, client_of):
    return client_of(duty_lead)


def send(lead, page: str, **given: object) -> str:
    return lead.post(f"{NIGHT}/{page}/", given, follow=True).content.decode()


def closed(lead) -> str:
    given = {"words": "Posts to the rack.", "first_job": "Drill 20", "ring": "Bo: the torch"}
    return send(lead, "close", **given, not_done="the bus left")


def test_a_deputy_sees_what_is_left_ticks_by_name_and_hands_over(scene, lead) -> None:
    shown = lead.get(f"{NIGHT}/close/").content.decode()
    assert "Big drill" in shown
    assert "the book says <b>7</b>" in shown
    done = {f"{scene.drill.pk}-stop": "on", f"{scene.drill.pk}-tag-why": "no tags left"}
    rack = {f"rack-{scene.stock.post.pk}": 8}
    send(lead, "close/steps", ticked_by="Ada", **done, **rack)
    assert "no tags left" in closed(lead)
    found = {part["title"]: part["lines"] for part in HandOver.objects.get().found}
    assert any("no tags left (Ada)" in line for line in found["Not done"])
    assert any("the bus left (Dov)" in line for line in found["Not done"])
    assert any("counted 8 by hand when the book said 9" in line for line in found["On the racks"])
    assert found["Out of service"] == ["Big drill: chuck slips"]
    assert Night.objects.get().status == Night.Status.CLOSED


def test_the_next_opener_sees_it_first_until_it_is_read_by_name(scene, lead) -> None:
    closed(lead)
    make_night(scene.shop, date=date(2026, 1, 21))
    later = "/teal-point/nights/2026-01-21/"
    for page in ("/teal-point/", later):
        shown = lead.get(page).content.decode()
        assert "Posts to the rack." in shown
        assert "mark it as read" in shown
    assert "Read by Ada" in send(lead, "hand-over/read", read_by="Ada")
    assert "mark it as read" not in lead.get(later).content.decode()
    send(lead, "hand-over/read", read_by="Bo")
    assert HandOver.objects.get().read_by == "Ada"


def test_with_people_in_the_building_nothing_is_closed(scene, lead) -> None:
    actions.sign_in(night=scene.night, person=scene.people["Ada"], at=scene.at("18:00"))
    assert "Still in the building: Ada R." in lead.get(f"{NIGHT}/close/").content.decode()
    assert "still on the roll: Ada R." in closed(lead)
    assert Night.objects.get().status == Night.Status.PLANNED
