"""The training timetable: what is refused, what a plan keeps, and what it says when it cannot."""

from __future__ import annotations

from datetime import date, time

import pytest

from tests.factories import make_bar, make_person, make_station
from tests.workshops.nights.scene import Scene
from workshops.nights import actions
from workshops.nights.models import Night, Placing, SignUp, TrainingDate
from workshops.nights.refusals import NightRefused
from workshops.nights.teaching import training_on
from workshops.people.models import Person
from workshops.stations.models import Level


def teach(scene: Scene, learner: str = "Eli", lead: str = "Ada") -> TrainingDate:
    """Eli learns at the drill beside Ada tonight, unless told otherwise."""
    people = scene.people
    return actions.set_training(
        night=scene.night, learner=people[learner], station=scene.drill, lead=people[lead], by=None
    )


def told(scene: Scene) -> tuple[bool, str]:
    """Whether the one line of tonight is kept, and why not."""
    (line,) = training_on(scene.night, {}, list(Placing.objects.all()))
    return line.is_kept, line.why_not


def places(person: Person) -> list[Placing]:
    return list(Placing.objects.filter(person=person).order_by("block"))


def test_a_plan_puts_the_learner_beside_the_lead_in_every_block_that_allows_it(scene: Scene):
    teach(scene)
    actions.plan_night(night=scene.night, by=None)
    assert told(scene) == (True, "")
    assert [row.role for row in places(scene.people["Eli"])] == ["learns"] * 3
    assert {row.station for row in places(scene.people["Ada"])} == {scene.drill}
    assert "beside Ada R.: the training timetable" in places(scene.people["Eli"])[0].why


def test_without_a_line_nobody_makes_the_lead_stand_there(scene: Scene):
    """The plan makes nothing in this empty shop, so only the timetable brings the two together."""
    scene.join("Uma", (scene.drill, Level.MAY_LEAD))
    teach(scene, lead="Uma")
    actions.plan_night(night=scene.night, by=None)
    assert told(scene) == (True, "")


def test_a_new_plan_keeps_the_timetable_and_what_is_fixed_by_hand(scene: Scene):
    actions.place(
        night=scene.night, block=scene.blocks[0], person=scene.people["Eli"], station=scene.tag
    )
    teach(scene)
    actions.plan_night(night=scene.night, by=None)
    assert told(scene) == (True, "")
    assert places(scene.people["Eli"])[0].station == scene.tag


def test_a_lead_who_does_not_come_is_said_by_name_and_the_night_is_planned(scene: Scene):
    teach(scene)
    SignUp.objects.filter(person=scene.people["Ada"]).update(answer="no")
    actions.plan_night(night=scene.night, by=None)
    assert told(scene) == (False, "Not expected that night: Ada R.")
    assert Placing.objects.exists()


def test_two_who_are_never_there_at_once_are_told_so(scene: Scene):
    teach(scene)
    SignUp.objects.filter(person=scene.people["Ada"]).update(leaves=time(19, 15))
    SignUp.objects.filter(person=scene.people["Eli"]).update(arrives=time(19, 15))
    actions.plan_night(night=scene.night, by=None)
    is_kept, why_not = told(scene)
    assert not is_kept
    assert "is not in the building" in why_not or "not here" in why_not, why_not


def test_a_bar_set_after_the_line_was_written_is_the_reason(scene: Scene):
    teach(scene)
    make_bar(scene.people["Eli"], scene.drill)
    actions.plan_night(night=scene.night, by=None)
    is_kept, why_not = told(scene)
    assert not is_kept
    assert why_not.startswith("Eli R. is barred from Drill: left the guard off.")


def test_a_bench_for_one_has_no_room_for_a_learner_and_says_so(scene: Scene):
    scene.drill.crew_max = 1
    scene.drill.save()
    teach(scene)
    actions.plan_night(night=scene.night, by=None)
    is_kept, why_not = told(scene)
    assert not is_kept
    assert why_not


def test_moved_away_by_hand_the_line_is_shown_as_not_kept(scene: Scene):
    teach(scene)
    actions.plan_night(night=scene.night, by=None)
    for block in scene.blocks:
        actions.unplace(night=scene.night, block=block, person=scene.people["Eli"])
    assert told(scene) == (False, "They do not stand together in the plan as it is now.")


def test_a_line_set_again_changes_and_can_be_dropped(scene: Scene):
    teach(scene)
    scene.join("Uma", (scene.drill, Level.MAY_LEAD))
    row = teach(scene, lead="Uma")
    assert TrainingDate.objects.get() == row
    assert row.lead == scene.people["Uma"]
    actions.drop_training(row=row)
    assert not TrainingDate.objects.exists()


@pytest.mark.parametrize(
    ("learner", "lead", "says"),
    [
        ("Ada", "Ada", "Nobody learns from themselves"),
        ("Dee", "Ada", "Dee R. has no sign-off for Drill"),
        ("Eli", "Bo", "Bo R. has no sign-off for Drill"),
        ("Ada", "Bo", "Ada Reed may work alone at Drill already"),
    ],
)
def test_who_may_not_learn_or_lead_there_is_refused(
    scene: Scene, learner: str, lead: str, says: str
):
    with pytest.raises(NightRefused, match=says):
        teach(scene, learner, lead)


def test_a_lead_takes_no_more_learners_than_the_rule_allows(scene: Scene):
    teach(scene)
    for name in ("Flo", "Gus"):
        scene.join(name, (scene.drill, Level.WITH_A_LEAD))
    teach(scene, "Flo")
    with pytest.raises(NightRefused, match=r"has 2 at Drill on .* already; one lead takes 2"):
        teach(scene, "Gus")


def test_nobody_teaches_at_two_stations_or_while_learning(scene: Scene):
    teach(scene)
    roll = make_station(scene.shop, name="Bend", level_needed=Level.ALONE)
    max_ = scene.join("Max", (roll, Level.WITH_A_LEAD))
    ada = scene.join("Una", (scene.drill, Level.MAY_LEAD), (roll, Level.MAY_LEAD))
    teach(scene, lead="Una")
    with pytest.raises(NightRefused, match="teaches at another station"):
        actions.set_training(night=scene.night, learner=max_, station=roll, lead=ada, by=None)


def test_closed_stations_past_nights_and_other_shops_are_refused(scene: Scene, other_shop):
    scene.weld.is_in_use = False
    guest = make_person(other_shop)
    with pytest.raises(NightRefused, match="must belong to this shop"):
        actions.set_training(
            night=scene.night, learner=guest, station=scene.drill,
            lead=scene.people["Ada"], by=None,
        )  # fmt: skip
    Night.objects.filter(pk=scene.night.pk).update(status="closed", date=date(2026, 1, 7))
    with pytest.raises(NightRefused, match="is closed"):
        teach(scene)


def test_where_being_shown_is_all_it_takes_nobody_learns(scene: Scene):
    with pytest.raises(NightRefused, match="being shown how is all it takes"):
        actions.set_training(
            night=scene.night, learner=scene.people["Dee"], station=scene.watch,
            lead=scene.people["Ada"], by=None,
        )  # fmt: skip
