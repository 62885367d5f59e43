"""Placing by engine and by hand: one gate for both, on facts read anew."""

from __future__ import annotations

import pytest

from tests.factories import (
    make_bar,
    make_minor,
    make_person,
    make_sign_up,
    make_station,
    make_waiver,
    take_back,
)
from workshops.nights import actions
from workshops.nights.actions import placing
from workshops.nights.engine.solve import solve
from workshops.nights.models import Night, Placing, PlacingRun
from workshops.nights.refusals import NightRefused, PlacingRefused

pytestmark = pytest.mark.usefixtures("material")


def put(scene, name: str, station: str, block: int = 0, **fields):
    return actions.place(
        night=scene.night, block=scene.blocks[block], person=scene.people[name],
        station=getattr(scene, station), **fields,
    )  # fmt: skip


def at(scene, station: str) -> set[str]:
    rows = Placing.objects.filter(station=getattr(scene, station)).select_related("person")
    return {row.person.first_name for row in rows}


def plan(scene, **how) -> PlacingRun:
    return actions.plan_night(night=scene.night, by=None, seconds=2.0, **how)


def breached(found) -> set[str]:
    return {breach.rule for breach in found}


# ---- by the engine ---------------------------------------------------------------------------


def test_a_plan_is_kept_with_its_run_and_its_placings(scene) -> None:
    run = plan(scene)
    assert scene.night.plan == run
    assert scene.night.placings.count() > 0
    assert set(scene.night.placings.values_list("run", flat=True)) == {run.pk}
    assert run.result["breaches"] == []


def test_a_plan_can_be_run_again_from_its_row(scene) -> None:
    run = plan(scene)
    again = solve(placing.translate.engine.Problem.from_json(run.problem), seed=run.seed)
    assert again.output.worth == pytest.approx(run.objective)


def test_nobody_is_planned_where_the_gate_says_no(scene) -> None:
    plan(scene)
    assert at(scene, "weld") <= {"Bo"}
    assert at(scene, "drill") <= {"Ada", "Eli"}


def test_sparks_are_planned_only_with_the_watch_beside_them(scene) -> None:
    plan(scene)
    assert at(scene, "weld") == {"Bo"}
    watches = Placing.objects.filter(role=Placing.Role.WATCHES)
    assert {row.person.first_name for row in watches} == {"Cy"}
    assert {row.room for row in watches} == {scene.weld.room}


def test_the_kind_of_night_closes_stations(scene) -> None:
    scene.night.kind = Night.Kind.STRAW
    scene.night.save()
    run = plan(scene)
    assert at(scene, "weld") == set()
    told = {row["station"]: row["reason"] for row in run.result["closed"]}
    assert "straw night" in told[str(scene.weld.pk)]


def test_with_nobody_expected_the_plan_is_empty_and_the_stations_say_why(scene) -> None:
    scene.night.sign_ups.update(answer="no")
    run = actions.plan_night(night=scene.night, by=None)
    assert not Placing.objects.filter(night=scene.night).exists()
    assert {row["station"] for row in run.result["closed"]} >= {str(scene.weld.pk)}
    assert all(row["reason"] for row in run.result["closed"])


def test_a_night_that_is_over_is_not_planned(scene) -> None:
    scene.night.status = Night.Status.CLOSED
    with pytest.raises(NightRefused, match="is closed"):
        plan(scene)


def test_what_is_fixed_by_hand_stays_and_stays_fixed(scene) -> None:
    put(scene, "Ada", "tag", 2)
    plan(scene)
    row = Placing.objects.get(person=scene.people["Ada"], block=scene.blocks[2])
    assert (row.station, row.is_locked) == (scene.tag, True)


def test_something_fixed_that_breaks_a_rule_by_now_is_refused_in_words(scene) -> None:
    put(scene, "Ada", "drill")
    make_bar(scene.people["Ada"], scene.drill)
    with pytest.raises(NightRefused, match=r"Ada R\. is barred from Drill.*fixed there by hand"):
        plan(scene)


def test_a_second_plan_changes_little(scene) -> None:
    plan(scene)
    before = set(Placing.objects.values_list("person", "block", "station"))
    plan(scene)
    assert set(Placing.objects.values_list("person", "block", "station")) == before


def test_the_likes_of_those_who_come_reach_the_engine(scene) -> None:
    scene.people["Dee"].likes.add(scene.tag)
    people = {row["id"]: row for row in plan(scene).problem["people"]}
    assert people[str(scene.people["Dee"].pk)]["likes"] == [str(scene.tag.pk)]
    assert people[str(scene.people["Ada"].pk)]["likes"] == []


# ---- while the engine works ------------------------------------------------------------------


def meanwhile(monkeypatch, step) -> None:
    """Let ``step`` happen after the engine is done and before its plan is stored."""

    def slow(problem, **how):
        found = solve(problem, **how)
        step()
        return found

    monkeypatch.setattr(placing, "solve", slow)


def test_a_suspension_set_while_the_plan_is_made_wins(scene, monkeypatch) -> None:
    meanwhile(monkeypatch, lambda: make_bar(scene.people["Bo"], scene.weld))
    run = plan(scene)
    assert any(row["station"] == str(scene.weld.pk) for row in run.result["placings"])
    assert at(scene, "weld") == set()


def test_a_bar_from_everywhere_set_meanwhile_leaves_no_place(scene, monkeypatch) -> None:
    meanwhile(monkeypatch, lambda: make_bar(scene.people["Ada"]))
    plan(scene)
    assert not Placing.objects.filter(person=scene.people["Ada"]).exists()


def test_the_watch_barred_meanwhile_is_taken_out(scene, monkeypatch) -> None:
    meanwhile(monkeypatch, lambda: make_bar(scene.people["Cy"], scene.watch))
    plan(scene)
    assert at(scene, "watch") == set()


def test_a_hand_placing_made_meanwhile_stays(scene, monkeypatch) -> None:
    meanwhile(monkeypatch, lambda: put(scene, "Bo", "tag", 0))
    plan(scene)
    row = Placing.objects.get(person=scene.people["Bo"], block=scene.blocks[0])
    assert (row.station, row.is_locked) == (scene.tag, True)


def test_a_night_cancelled_meanwhile_keeps_no_plan(scene, monkeypatch) -> None:
    meanwhile(monkeypatch, lambda: Night.objects.update(status=Night.Status.CANCELLED))
    with pytest.raises(NightRefused, match="is cancelled"):
        plan(scene)
    assert not PlacingRun.objects.exists()


# ---- by hand ---------------------------------------------------------------------------------


def test_a_move_is_kept_and_fixed(scene) -> None:
    assert put(scene, "Ada", "drill") == ()
    row = Placing.objects.get()
    assert (row.station, row.role, row.is_locked) == (scene.drill, "works", True)


def test_a_move_takes_the_person_from_where_they_stood(scene) -> None:
    put(scene, "Ada", "drill")
    put(scene, "Ada", "tag")
    assert [row.station for row in Placing.objects.all()] == [scene.tag]


@pytest.mark.parametrize(
    ("name", "station", "rule"),
    [("Dee", "drill", "sign_off"), ("Eli", "drill", "learner_beside_lead")],
)
def test_a_move_that_breaks_a_rule_is_refused_and_changes_nothing(scene, name, station, rule):
    put(scene, name, "tag")
    with pytest.raises(PlacingRefused) as refused:
        put(scene, name, station)
    assert breached(refused.value.breaches) == {rule}
    assert at(scene, "tag") == {name}


def test_a_learner_is_put_beside_the_lead_as_a_learner(scene) -> None:
    put(scene, "Ada", "drill")
    assert put(scene, "Eli", "drill") == ()
    row = Placing.objects.get(person=scene.people["Eli"])
    assert (row.role, row.bench) == ("learns", 1)


def test_a_barred_person_is_refused_with_the_bars_reason(scene) -> None:
    make_bar(scene.people["Ada"], scene.drill, reason="left the guard off")
    with pytest.raises(PlacingRefused, match="left the guard off"):
        put(scene, "Ada", "drill")


def test_somebody_barred_since_is_not_put_there_anew(scene) -> None:
    put(scene, "Ada", "drill")
    make_bar(scene.people["Ada"], scene.drill)
    with pytest.raises(PlacingRefused, match="is barred from Drill"):
        put(scene, "Ada", "drill")


def test_somebody_not_here_is_refused(scene) -> None:
    fay = make_person(scene.shop, first_name="Fay")
    make_waiver(fay)
    scene.people["Fay"] = fay
    with pytest.raises(PlacingRefused, match="is not here all of"):
        put(scene, "Fay", "tag")


def test_somebody_without_a_waiver_is_refused(scene) -> None:
    fay = scene.people["Fay"] = make_person(scene.shop, first_name="Fay", last_name="Low")
    make_sign_up(scene.night, fay)
    with pytest.raises(PlacingRefused, match="no waiver that counts"):
        put(scene, "Fay", "tag")


def test_hot_work_after_the_last_spark_is_refused(scene) -> None:
    with pytest.raises(PlacingRefused, match="ends by 20:00"):
        put(scene, "Bo", "weld", 2)


def test_a_minor_at_the_weld_is_refused_by_age(scene) -> None:
    mina = scene.people["Mina"] = make_minor(scene.shop, scene.people["Ada"])
    make_waiver(mina)
    make_sign_up(scene.night, mina)
    with pytest.raises(PlacingRefused) as refused:
        put(scene, "Mina", "weld")
    assert {"minimum_age", "sign_off"} <= breached(refused.value.breaches)


def test_a_fourth_person_is_refused_where_the_bench_holds_three(scene) -> None:
    for name in ("Ada", "Bo", "Cy"):
        put(scene, name, "tag")
    with pytest.raises(PlacingRefused, match="holds 3"):
        put(scene, "Dee", "tag")


def test_a_plan_may_be_put_together_piece_by_piece(scene) -> None:
    assert breached(put(scene, "Bo", "weld")) == {"fire_watch"}
    assert breached(put(scene, "Cy", "watch")) == {"fire_watch"}  # the watch ends too early yet
    for block in (1, 2):
        found = put(scene, "Cy", "watch", block)
    assert found == ()


def test_the_fire_watch_is_given_the_room_with_the_sparks(scene) -> None:
    put(scene, "Bo", "weld")
    put(scene, "Cy", "watch")
    assert Placing.objects.get(person=scene.people["Cy"]).room == scene.weld.room


def test_the_watch_does_nothing_else(scene) -> None:
    put(scene, "Cy", "watch")
    put(scene, "Cy", "tag")
    assert at(scene, "watch") == set()


def test_without_a_station_that_sparks_there_is_nothing_to_watch(scene) -> None:
    type(scene.weld).objects.filter(pk=scene.weld.pk).update(is_spark=False)
    with pytest.raises(NightRefused, match="nothing to watch"):
        put(scene, "Cy", "watch")


def test_a_trouble_that_was_there_before_does_not_stop_another_move(scene) -> None:
    put(scene, "Ada", "drill")
    make_bar(scene.people["Ada"], scene.drill)
    assert breached(put(scene, "Dee", "tag")) == {"barred"}


def test_places_of_another_night_or_shop_are_refused(scene, other_shop) -> None:
    scene.people["Stan"] = make_person(other_shop)
    with pytest.raises(NightRefused, match="must belong to this shop"):
        put(scene, "Stan", "tag")
    scene.tag = make_station(other_shop)
    with pytest.raises(NightRefused, match="must belong to this shop"):
        put(scene, "Dee", "tag")


def test_a_station_out_of_use_takes_nobody(scene) -> None:
    scene.tag.is_in_use = False
    with pytest.raises(NightRefused, match="Tag is not in use"):
        put(scene, "Dee", "tag")


def test_taking_a_person_out_gives_what_is_broken_now(scene) -> None:
    put(scene, "Ada", "drill")
    put(scene, "Eli", "drill")
    found = actions.unplace(night=scene.night, block=scene.blocks[0], person=scene.people["Ada"])
    assert breached(found) == {"learner_beside_lead"}


def test_a_lock_is_set_and_let_go(scene) -> None:
    put(scene, "Ada", "drill")
    row = actions.set_lock(placing=Placing.objects.get(), is_locked=False)
    assert not row.is_locked


@pytest.mark.parametrize("step", ["place", "unplace", "lock"])
def test_a_night_that_is_over_is_not_changed(scene, step) -> None:
    put(scene, "Ada", "drill")
    Night.objects.update(status=Night.Status.CLOSED)
    scene.night.refresh_from_db()
    steps = {
        "place": lambda: put(scene, "Ada", "tag"),
        "unplace": lambda: actions.unplace(
            night=scene.night, block=scene.blocks[0], person=scene.people["Ada"]
        ),
        "lock": lambda: actions.set_lock(placing=Placing.objects.get(), is_locked=False),
    }
    with pytest.raises(NightRefused, match="is closed"):
        steps[step]()
    assert at(scene, "drill") == {"Ada"}


def test_a_placing_that_breaks_a_rule_by_now_cannot_be_fixed(scene) -> None:
    ada = scene.people["Ada"]
    placing = Placing.objects.create(
        night=scene.night, block=scene.blocks[0], person=ada, station=scene.drill
    )
    take_back(ada.sign_offs.get())
    with pytest.raises(PlacingRefused, match="has no sign-off for Drill"):
        actions.set_lock(placing=placing, is_locked=True)
    placing.refresh_from_db()
    assert not placing.is_locked
