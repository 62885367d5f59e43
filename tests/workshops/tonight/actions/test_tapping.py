"""One tap "not coming", and taking it back."""

from __future__ import annotations

from uuid import UUID

import pytest

from tests.workshops.nights.scene import Scene
from workshops.nights import actions as nights
from workshops.nights.models import Night, Placing, PlacingRun, RollLine, SignUp
from workshops.nights.refusals import NightRefused
from workshops.tonight import actions
from workshops.tonight.models import Tap
from workshops.tonight.plans import changed_by, kept
from workshops.tonight.refusals import TonightRefused

pytestmark = pytest.mark.django_db
ONE, TWO = UUID(int=1), UUID(int=2)


@pytest.fixture
def placed(scene: Scene, material: None) -> Scene:
    """Everybody placed, the welder among them."""
    nights.plan_night(night=scene.night, by=None, seconds=1.0)
    return scene


def tap(scene: Scene, name: str, key: UUID = ONE, clock: str = "17:40") -> Tap:
    night = Night.objects.select_related("shop", "plan").get(pk=scene.night.pk)
    return actions.not_coming(
        night=night, person=scene.people[name], by=None, at=scene.at(clock), client_key=key
    )


def back(scene: Scene, row: Tap) -> Tap:
    return actions.comes_after_all(tap=row, by=None, at=scene.at("17:44"), client_key=TWO)


def board(scene: Scene) -> list[list[int | str]]:
    rows = Placing.objects.filter(night=scene.night)
    return sorted(kept(rows, scene.blocks), key=str)


def test_the_welder_is_out_of_the_plan_and_the_watch_is_free(placed: Scene):
    row = tap(placed, "Bo")
    changed = changed_by(row)
    assert SignUp.objects.get(person=placed.people["Bo"]).answer == "no"
    assert not Placing.objects.filter(person=placed.people["Bo"]).exists()
    assert changed.closed == ("Weld", "Fire watch")
    assert {move.was for move in changed.moves} == {"Fire watch"}
    assert changed.fewer > 0


def test_pressed_twice_it_is_one_tap(placed: Scene):
    assert tap(placed, "Bo") == tap(placed, "Bo")
    assert (Tap.objects.count(), PlacingRun.objects.count()) == (1, 2)


def test_taken_back_the_plan_is_as_it_was(placed: Scene):
    before = board(placed)
    row = back(placed, tap(placed, "Bo"))
    assert board(placed) == before
    assert changed_by(row).opened == ("Weld", "Fire watch")
    assert SignUp.objects.get(person=placed.people["Bo"]).answer == "yes"


def test_somebody_fixed_by_hand_does_not_stop_the_plan(placed: Scene):
    first = Placing.objects.filter(person=placed.people["Bo"])[0]
    nights.set_lock(placing=first, is_locked=True)
    before = board(placed)
    row = tap(placed, "Bo")
    assert row.trouble == ""
    assert not Placing.objects.filter(person=placed.people["Bo"]).exists()
    back(placed, row)
    assert board(placed) == before


def test_once_the_board_was_changed_the_others_are_placed_anew(placed: Scene):
    row = tap(placed, "Bo")
    nights.unplace(night=placed.night, block=placed.blocks[0], person=placed.people["Dee"])
    again = back(placed, row)
    assert again.after is not None
    assert Placing.objects.filter(person=placed.people["Bo"], station=placed.weld).exists()


def test_taken_back_twice_is_refused(placed: Scene):
    row = tap(placed, "Bo")
    back(placed, row)
    with pytest.raises(TonightRefused, match="taken back already"):
        actions.comes_after_all(tap=row, by=None, at=placed.at("17:50"), client_key=UUID(int=3))


def test_without_a_plan_only_the_answer_changes(scene: Scene):
    row = tap(scene, "Bo")
    assert (row.after, PlacingRun.objects.count()) == ([], 0)
    assert SignUp.objects.get(person=scene.people["Bo"]).answer == "no"


def test_who_is_in_the_building_is_signed_out_and_not_tapped(placed: Scene):
    RollLine.objects.create(
        night=placed.night, person=placed.people["Bo"], in_at=placed.at("18:00")
    )
    with pytest.raises(TonightRefused, match="on the roll"):
        tap(placed, "Bo")
    assert not Tap.objects.exists()


def test_once_work_has_begun_what_is_over_stays(placed: Scene):
    dee = placed.people["Dee"]
    for person in placed.people.values():
        if person != dee:
            RollLine.objects.create(night=placed.night, person=person, in_at=placed.at("18:00"))
    first = sorted(row for row in board(placed) if row[1] == 0)
    row = tap(placed, "Dee", clock="19:20")
    assert row.trouble == ""
    assert sorted(each for each in board(placed) if each[1] == 0) == first
    assert not [each for each in board(placed) if each[0] == dee.pk and each[1] > 0]


def test_a_night_that_is_over_takes_no_tap(placed: Scene):
    Night.objects.update(status="closed")
    with pytest.raises(NightRefused):
        tap(placed, "Bo")
