"""The register through a winter: what lapses, who signs, who is stopped, who talks big."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from tests.factories import make_bar, make_member, make_sign_off
from tests.journeys.test_night import Desk
from tests.workshops.nights.scene import Scene, make_scene
from workshops.access.models import Membership
from workshops.common.jobs import run_now
from workshops.common.models import Job
from workshops.nights.models import Placing
from workshops.people.models import SignOff
from workshops.stations.models import Level

pytestmark = pytest.mark.django_db
PEOPLE, NIGHT = "/teal-point/people", "/teal-point/nights/2026-01-14"


@pytest.fixture
def scene(shop: Any, clock: Any) -> Scene:
    """Tonight, with an authoriser of every machine who signs in as one."""
    scene = make_scene(shop)
    sig = scene.join(
        "Sig", *((station, Level.MAY_SIGN) for station in (scene.drill, scene.weld, scene.watch))
    )
    sig.user = make_member(shop, "sig", Membership.Role.AUTHORISER)
    sig.save()
    return scene


@pytest.fixture
def desk(coordinator: Any, client_of: Any) -> Desk:
    return Desk(client_of(coordinator))


@pytest.fixture
def signer(scene: Scene, client_of: Any) -> Desk:
    return Desk(client_of(scene.people["Sig"].user))


def put(scene: Scene, desk: Desk, name: str, station: str) -> str:
    url = f"{NIGHT}/move/{scene.blocks[0].pk}/{scene.people[name].pk}/"
    return desk.send(url, station=getattr(scene, station).pk)


def sign(scene: Scene, desk: Desk, name: str, station: str, **fields: Any) -> str:
    given = {"station": getattr(scene, station).pk, "level": 3, "evidence": "did it twice",
             "signed_by": scene.people["Sig"].pk, "on": "2026-01-14"}  # fmt: skip
    return desk.send(f"{PEOPLE}/{scene.people[name].pk}/sign-off/", **(given | fields))


def stop(scene: Scene, desk: Desk, name: str, **fields: Any) -> str:
    return desk.send(
        f"{PEOPLE}/{scene.people[name].pk}/bar/", reason="left the guard off", **fields
    )


def test_a_sign_off_that_ends_in_mid_winter_stops_the_next_night_and_not_this_one(
    scene: Scene, desk: Desk, signer: Desk, clock: Any
) -> None:
    make_sign_off(scene.people["Bo"], scene.weld, signed_on=date(2025, 12, 1),
                  valid_until=date(2026, 1, 14))  # fmt: skip
    assert "Bo R. is at Weld" in put(scene, desk, "Bo", "weld")
    clock.shift(24 * 3600)
    assert "lapsed: its last day was 14 Jan 2026" in desk.look(f"{PEOPLE}/{at(scene, 'Bo')}/")
    assert "Signed:" in sign(scene, signer, "Bo", "weld", on="2026-01-15")
    assert "lapsed: its last day" not in desk.look(f"{PEOPLE}/{at(scene, 'Bo')}/")


def at(scene: Scene, name: str) -> int:
    return scene.people[name].pk


def test_on_the_first_night_all_have_lapsed_and_the_authoriser_is_signed_from_paper_first(
    scene: Scene, desk: Desk, signer: Desk
) -> None:
    for row in list(SignOff.objects.all()):
        make_sign_off(row.person, row.station, row.level, signed_on=date(2025, 12, 1),
                      valid_until=date(2026, 1, 2))  # fmt: skip
    refused = put(scene, desk, "Ada", "drill")
    assert "Ada R. stays where they were." in refused
    assert "You cannot sign here" in sign(scene, signer, "Ada", "drill")
    desk.send(f"{PEOPLE}/{at(scene, 'Sig')}/paper-sign-off/", station=scene.drill.pk, level=5,
              evidence="minutes of 7 January, page 1", on="2026-01-13")  # fmt: skip
    assert "Signed:" in sign(scene, signer, "Ada", "drill")
    assert "Ada R. is at Drill" in put(scene, desk, "Ada", "drill")


def test_a_barred_authoriser_signs_no_more_and_each_line_he_signed_is_looked_at_again(
    scene: Scene, desk: Desk, signer: Desk
) -> None:
    sign(scene, signer, "Dee", "drill")
    put(scene, desk, "Dee", "drill")
    assert "is barred from now on" in stop(scene, desk, "Sig")
    assert "You cannot sign here" in sign(scene, signer, "Eli", "drill")
    assert Placing.objects.filter(person=scene.people["Dee"]).exists()  # what he signed stays
    assert "Dee Reed" in desk.look(f"{PEOPLE}/{at(scene, 'Sig')}/signed/")
    row = SignOff.objects.get(person=scene.people["Dee"])
    shown = desk.send(f"{PEOPLE}/{at(scene, 'Dee')}/sign-offs/{row.pk}/", verdict="withdrawn",
                      reason="never saw the vise used", **{"from": "signed"})  # fmt: skip
    assert "never saw the vise used" in shown
    assert not Placing.objects.filter(person=scene.people["Dee"]).exists()
    assert "stays where they were" in put(scene, desk, "Dee", "drill")


def test_who_welded_for_thirty_years_welds_here_once_an_authoriser_has_seen_it(
    scene: Scene, desk: Desk, signer: Desk
) -> None:
    scene.weld.prerequisites.add(scene.watch)
    scene.join("Gus", note="Welded for 30 years")
    assert "has no sign-off for Weld" in put(scene, desk, "Gus", "weld")
    sign(scene, signer, "Gus", "weld")
    assert "needs a current sign-off for Fire watch first" in put(scene, desk, "Gus", "weld")
    sign(scene, signer, "Gus", "watch")
    assert "Gus R. is at Weld" in put(scene, desk, "Gus", "weld")


def test_the_only_one_who_drills_steps_back_and_the_plan_closes_drilling_and_names_who_could(
    scene: Scene, desk: Desk
) -> None:
    make_bar(scene.people["Sig"], scene.drill)
    told = stop(scene, desk, "Ada", station=scene.drill.pk, only_with_a_lead="on",
                until="2026-02-01")  # fmt: skip
    assert "works there only beside a lead from now on" in told
    assert "until 1 Feb 2026" in told
    desk.client.post(f"{NIGHT}/plan/")
    assert run_now(Job.objects.latest("pk")).state == Job.State.DONE
    assert not Placing.objects.filter(station=scene.drill).exists()
    assert "Drill" in desk.look(f"{NIGHT}/")


def test_the_register_says_on_any_past_day_what_held_then(scene: Scene, desk: Desk) -> None:
    make_bar(scene.people["Ada"], scene.drill)
    shown = desk.look(f"{PEOPLE}/sign-offs/then/?on=2025-12-20&station={scene.drill.pk}&q=ada")
    assert "Who was signed off on 20 Dec 2025?" in shown
    assert "Written down later, on 14 Jan 2026." in shown
    assert "barred from Drill" in shown
    then = desk.look(f"{PEOPLE}/sign-offs/then/?on=2025-12-20&station={scene.drill.pk}&known=then")
    assert "sign-off counted here on that day." in then
