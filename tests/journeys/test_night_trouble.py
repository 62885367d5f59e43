"""A cut hand at the drill: told in a minute, the station closed, the day after asked."""

from __future__ import annotations

from typing import Any
from uuid import uuid4

import pytest

from tests.journeys.test_night_quality import NIGHT, Evening
from tests.workshops.nights.scene import bring_material, make_scene
from workshops.common.jobs import run_now
from workshops.common.models import Job
from workshops.nights.models import Placing
from workshops.trouble.models import DayAfter, Trouble

pytestmark = pytest.mark.django_db


@pytest.fixture
def evening(shop: Any, clock: Any, duty_lead: Any, client_of: Any) -> Evening:
    """Everybody is in and placed."""
    scene = make_scene(shop)
    bring_material(scene)
    made = Evening(scene, client_of(duty_lead), clock)
    made.at("18:10")
    for person in scene.people.values():
        made.send("roll/in/", person=person.pk)
    plan(made)
    return made


def plan(evening: Evening) -> None:
    evening.send("plan/")
    job = run_now(Job.objects.latest("pk"))
    assert job.state == Job.State.DONE, job.message


def at_drill(evening: Evening) -> set[int]:
    rows = Placing.objects.filter(station=evening.scene.drill)
    return set(rows.values_list("block__index", flat=True))


def move(evening: Evening, name: str, block: int) -> str:
    scene = evening.scene
    person, stretch = scene.people[name], scene.blocks[block]
    return evening.send(f"move/{stretch.pk}/{person.pk}/", station=scene.drill.pk)


def test_a_cut_hand_at_the_drill(evening: Evening) -> None:
    scene = evening.scene
    assert at_drill(evening) == {0, 1, 2}
    evening.at("19:25")
    said = evening.send(
        "trouble/", kind="hurt", station=scene.drill.pk, what="cut hand, gloves were on",
        closing="reopened", people=scene.people["Ada"].pk,
    )  # fmt: skip
    assert "Call the emergency services first." in said
    assert "Drill is closed for every plan" in said
    assert "Ada R. from 19:10" in said
    # Who stood there until now stays on record; nobody stands there any more.
    assert at_drill(evening) == {0}
    assert "closed: somebody hurt" in move(evening, "Ada", 2)
    plan(evening)
    assert not at_drill(evening) & {1, 2}
    assert "Somebody hurt (closed at 19:25" in evening.look("")


def test_the_details_come_later_and_a_lead_reopens_it(evening: Evening) -> None:
    scene = evening.scene
    evening.at("19:25")
    evening.send("trouble/", kind="hurt", station=scene.drill.pk, closing="reopened")
    row = Trouble.objects.get()
    evening.at("19:40")
    client, page = evening.client, f"/teal-point/trouble/{row.pk}/"
    given = {"words": "two stitches; gloves off the drill for good", "client_key": str(uuid4())}
    assert "two stitches" in client.post(page, given, follow=True).text
    stop = f"trouble/stops/{row.stop_id}/reopen/"
    assert "Name one of those who may lead at Drill" in evening.send(stop, why="swept, vise on")
    said = evening.send(stop, why="swept, vise on", lead=scene.people["Ada"].pk)
    assert "Drill is open again." in said
    assert "Ada R. is at Drill" in move(evening, "Ada", 2)
    assert "reopened Wed 14 Jan 19:40 by Ada Reed: swept, vise on" in client.get(page).text


def test_the_day_after_a_welder_is_not_well_and_knows_what_to_tell(evening: Evening) -> None:
    bo = evening.scene.people["Bo"]
    evening.at("20:55")
    for person in evening.scene.people.values():
        evening.send("roll/out/", person=person.pk)
    evening.clock.shift(14 * 60 * 60)
    text = evening.look("day-after/")
    assert "Bo R.</b>" in text
    assert "Welded for 80 minutes" in text
    said = evening.send("day-after/", person=bo.pk, answer="not_well")
    assert "See a doctor, and say: steel was welded for 80 minutes" in said
    assert DayAfter.objects.get().person == bo
    assert "<td>Weld</td><td>18:30–19:50</td>" in evening.look("who-worked-where/")


def test_a_volunteer_learns_of_no_injury(evening: Evening, volunteer: Any, client_of: Any) -> None:
    evening.at("19:25")
    evening.send("trouble/", kind="hurt", station=evening.scene.drill.pk, what="cut hand",
                 closing="reopened")  # fmt: skip
    client = client_of(volunteer)
    for page in ("", "trouble/"):
        text = client.get(f"{NIGHT}/{page}").text
        assert "cut hand" not in text
        assert "omebody hurt (" not in text
    assert client.get(f"/teal-point/trouble/{Trouble.objects.get().pk}/").status_code == 403
