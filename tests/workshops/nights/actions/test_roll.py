"""The roll is the evacuation list: it refuses nobody who is here, and forgets nobody."""

from __future__ import annotations

import pytest

from tests.factories import make_bar, make_minor, make_person, make_waiver
from workshops.nights import actions
from workshops.nights.models import Night
from workshops.nights.queries import in_the_building
from workshops.nights.refusals import NightRefused


def come_in(scene, person, at: str = "18:02"):
    return actions.sign_in(night=scene.night, person=person, at=scene.at(at))


def inside(scene) -> list[str]:
    return [line.person.first_name for line in in_the_building(scene.night)]


def test_whoever_comes_in_is_on_the_roll(scene) -> None:
    assert come_in(scene, scene.people["Ada"]).cautions == ()
    assert inside(scene) == ["Ada"]


def test_somebody_already_in_stays_in_from_the_first_time(scene) -> None:
    first = come_in(scene, scene.people["Ada"])
    again = come_in(scene, scene.people["Ada"], "19:00")
    assert again.line.pk == first.line.pk
    assert again.line.in_at == scene.at("18:02")


def test_a_walk_in_is_counted_as_coming(scene) -> None:
    fay = make_person(scene.shop, first_name="Fay")
    make_waiver(fay)
    come_in(scene, fay)
    assert scene.night.sign_ups.get(person=fay).answer == "yes"


def test_somebody_without_a_waiver_is_let_in_with_a_caution(scene) -> None:
    fay = make_person(scene.shop, first_name="Fay", last_name="Low")
    assert come_in(scene, fay).cautions == (
        "Fay L. has no waiver that counts: sign it before any work.",
    )
    assert inside(scene) == ["Fay"]


def test_a_bar_is_told_at_the_door(scene) -> None:
    make_bar(scene.people["Ada"], scene.drill, reason="left the guard off")
    assert "Ada R. is barred: left the guard off." in come_in(scene, scene.people["Ada"]).cautions


def test_a_minor_is_told_apart_until_a_guardian_is_in(scene) -> None:
    ada = scene.people["Ada"]
    mina = make_minor(scene.shop, ada, last_name="Reed")
    make_waiver(mina)
    assert "no guardian is in yet" in come_in(scene, mina).cautions[0]
    come_in(scene, ada)
    assert come_in(scene, mina).cautions == ()


def test_going_out_takes_off_the_roll_and_coming_back_puts_on_again(scene) -> None:
    ada = scene.people["Ada"]
    come_in(scene, ada)
    line = actions.sign_out(night=scene.night, person=ada, at=scene.at("19:00"))
    assert (line.out_at, inside(scene)) == (scene.at("19:00"), [])
    come_in(scene, ada, "19:20")
    assert inside(scene) == ["Ada"]


def test_going_out_without_being_in_is_refused(scene) -> None:
    with pytest.raises(NightRefused, match="not on the roll now"):
        actions.sign_out(night=scene.night, person=scene.people["Ada"], at=scene.at("19:00"))


def test_going_out_before_coming_in_is_refused_in_the_shops_time(scene) -> None:
    come_in(scene, scene.people["Ada"])
    with pytest.raises(NightRefused, match="came in at 18:02"):
        actions.sign_out(night=scene.night, person=scene.people["Ada"], at=scene.at("18:00"))


def test_nobody_of_another_shop_is_signed_in(scene, other_shop) -> None:
    with pytest.raises(NightRefused, match="not on this shop's list"):
        come_in(scene, make_person(other_shop))


def test_nobody_is_signed_in_on_a_night_that_is_over(scene) -> None:
    scene.night.status = Night.Status.CLOSED
    with pytest.raises(NightRefused, match="is closed"):
        come_in(scene, scene.people["Ada"])


def test_somebody_may_go_out_after_the_night_was_cancelled_by_another(scene) -> None:
    come_in(scene, scene.people["Ada"])
    Night.objects.update(status=Night.Status.CANCELLED)
    scene.night.refresh_from_db()
    actions.sign_out(night=scene.night, person=scene.people["Ada"], at=scene.at("19:00"))
    assert inside(scene) == []
