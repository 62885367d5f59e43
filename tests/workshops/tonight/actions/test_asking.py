"""That somebody was asked, and what they said."""

from __future__ import annotations

import pytest

from tests.factories import make_bar, make_person, make_sign_off, make_waiver
from tests.workshops.nights.scene import Scene
from workshops.nights.models import Night, SignUp
from workshops.people.models import Person
from workshops.tonight import actions
from workshops.tonight.models import Ask
from workshops.tonight.refusals import TonightRefused

pytestmark = pytest.mark.django_db


@pytest.fixture
def wim(scene: Scene) -> Person:
    """A second welder, who has not answered."""
    wim = make_person(scene.shop, first_name="Wim", last_name="Aal")
    make_waiver(wim)
    make_sign_off(wim, scene.weld)
    return wim


def ask(scene: Scene, person: Person) -> Ask:
    return actions.ask(
        night=scene.night, person=person, station=scene.weld, by=None, at=scene.at("17:42")
    )


def test_asked_twice_it_is_noted_once(scene: Scene, wim: Person):
    assert ask(scene, wim) == ask(scene, wim)
    assert Ask.objects.count() == 1


def test_a_yes_signs_them_up_and_a_no_takes_it_back(scene: Scene, wim: Person):
    row = ask(scene, wim)
    actions.reply(ask=row, reply="yes", at=scene.at("17:45"))
    assert SignUp.objects.get(person=wim).answer == "yes"
    actions.reply(ask=row, reply="no", at=scene.at("17:50"))
    assert SignUp.objects.get(person=wim).answer == "no"
    assert Ask.objects.get().reply == "no"


def test_who_could_not_be_reached_has_answered_nothing(scene: Scene, wim: Person):
    actions.reply(ask=ask(scene, wim), reply="none", at=scene.at("17:45"))
    assert not SignUp.objects.filter(person=wim).exists()


def test_hours_that_were_said_before_stay(scene: Scene, wim: Person):
    SignUp.objects.create(night=scene.night, person=wim, answer="maybe", arrives="19:00")
    actions.reply(ask=ask(scene, wim), reply="yes", at=scene.at("17:45"))
    assert f"{SignUp.objects.get(person=wim).arrives:%H:%M}" == "19:00"


def test_nobody_is_asked_for_what_the_gate_refuses(scene: Scene, wim: Person):
    make_bar(wim, scene.weld)
    with pytest.raises(TonightRefused, match="barred from Weld"):
        ask(scene, wim)


def test_who_comes_anyway_is_not_asked(scene: Scene):
    with pytest.raises(TonightRefused, match="comes already"):
        ask(scene, scene.people["Bo"])


def test_somebody_of_another_shop_is_not_asked(scene: Scene, other_shop):
    with pytest.raises(TonightRefused, match="must belong to this shop"):
        ask(scene, make_person(other_shop))


def test_a_night_that_is_over_asks_nobody(scene: Scene, wim: Person):
    Night.objects.update(status="closed")
    scene.night.refresh_from_db()
    with pytest.raises(TonightRefused, match="closed"):
        ask(scene, wim)


def test_another_word_is_no_reply(scene: Scene, wim: Person):
    with pytest.raises(TonightRefused, match="Say whether they come"):
        actions.reply(ask=ask(scene, wim), reply="later", at=scene.at("17:45"))
