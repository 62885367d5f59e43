"""Taking steps back and doing them again: the board as it was, and the rules of now."""

from __future__ import annotations

import pytest

from tests.factories import make_bar
from workshops.nights import actions
from workshops.nights.changes import steps_of, version_of
from workshops.nights.models import Change, Night, Placing
from workshops.nights.refusals import BoardChanged, NightRefused, PlacingRefused


def put(scene, name: str, station: str, block: int = 0, **how):
    return actions.place(
        night=scene.night, block=scene.blocks[block], person=scene.people[name],
        station=getattr(scene, station), **how,
    )  # fmt: skip


def board(scene) -> set[tuple[str, str, int]]:
    rows = Placing.objects.select_related("person", "station", "block")
    return {(row.person.first_name, row.station.name, row.block.index) for row in rows}


def back(scene):
    return actions.undo_step(night=scene.night, change=steps_of(scene.night).back.pk)


def again(scene):
    return actions.redo_step(night=scene.night, change=steps_of(scene.night).again.pk)


def test_moves_are_taken_back_the_latest_first_and_done_again(scene) -> None:
    put(scene, "Ada", "drill")
    put(scene, "Ada", "tag")
    back(scene)
    assert board(scene) == {("Ada", "Drill", 0)}
    back(scene)
    assert board(scene) == set()
    again(scene)
    again(scene)
    assert board(scene) == {("Ada", "Tag", 0)}


def test_a_new_step_forgets_what_was_taken_back(scene) -> None:
    put(scene, "Ada", "drill")
    back(scene)
    put(scene, "Dee", "tag")
    assert steps_of(scene.night).again is None
    assert Change.objects.count() == 1


def test_a_move_to_the_end_of_the_night_is_one_step(scene) -> None:
    put(scene, "Ada", "drill", 1, to_end=True)
    assert board(scene) == {("Ada", "Drill", 1), ("Ada", "Drill", 2)}
    back(scene)
    assert board(scene) == set()


def test_refused_in_one_block_the_move_is_made_in_none(scene) -> None:
    with pytest.raises(PlacingRefused, match=r"ends by 20:00.*Choose an earlier block"):
        put(scene, "Bo", "weld", to_end=True)
    assert board(scene) == set()


def test_a_lock_is_taken_back(scene) -> None:
    put(scene, "Ada", "drill")
    actions.set_lock(placing=Placing.objects.get(), is_locked=False)
    back(scene)
    assert Placing.objects.get().is_locked


def test_taking_out_is_taken_back_with_its_sentence(scene) -> None:
    put(scene, "Ada", "drill")
    why = Placing.objects.get().why
    actions.unplace(night=scene.night, block=scene.blocks[0], person=scene.people["Ada"])
    back(scene)
    assert Placing.objects.get().why == why
    assert why.startswith("Ada R. is at Drill: moved there by hand; signed off “may lead”")


def test_a_plan_is_taken_back_as_a_whole(scene, material) -> None:
    put(scene, "Ada", "tag")
    actions.plan_night(night=scene.night, by=None, seconds=1.0)
    placed = board(scene)
    back(scene)
    assert board(scene) == {("Ada", "Tag", 0)}
    assert Night.objects.get().plan is None
    again(scene)
    assert board(scene) == placed
    assert Night.objects.get().plan is not None


def test_who_was_barred_since_is_not_put_back(scene) -> None:
    put(scene, "Ada", "drill")
    put(scene, "Ada", "tag")
    make_bar(scene.people["Ada"], scene.drill, reason="left the guard off")
    with pytest.raises(PlacingRefused, match="left the guard off"):
        back(scene)
    assert board(scene) == {("Ada", "Tag", 0)}


def test_of_a_plan_taken_back_the_barred_stay_where_they_are_and_it_is_said(scene) -> None:
    put(scene, "Ada", "drill")
    put(scene, "Dee", "tag")
    actions.unplace(night=scene.night, block=scene.blocks[0], person=scene.people["Dee"])
    row = Change.objects.latest("pk")
    row.before["seats"] += Change.objects.earliest("pk").after["seats"]  # a step of two
    row.save()
    Placing.objects.all().delete()
    make_bar(scene.people["Ada"], scene.drill, reason="left the guard off")
    done = back(scene)
    assert board(scene) == {("Dee", "Tag", 0)}
    assert "left the guard off" in done.left_out[0]


def test_only_the_latest_step_is_taken_back(scene) -> None:
    put(scene, "Ada", "drill")
    first = Change.objects.get()
    put(scene, "Dee", "tag")
    with pytest.raises(NightRefused, match="changed meanwhile"):
        actions.undo_step(night=scene.night, change=first.pk)


def test_nothing_is_taken_back_on_a_night_that_is_over(scene) -> None:
    put(scene, "Ada", "drill")
    Night.objects.update(status=Night.Status.CLOSED)
    with pytest.raises(NightRefused, match="is closed"):
        back(scene)


def test_a_step_of_blocks_that_are_gone_is_not_taken_back(scene) -> None:
    put(scene, "Ada", "drill", 2)
    scene.blocks[2].delete()
    with pytest.raises(NightRefused, match="times of the night were changed"):
        back(scene)


def test_a_move_on_a_board_that_somebody_changed_is_refused(scene) -> None:
    seen = version_of(Placing.objects.all())
    put(scene, "Ada", "drill", seen=seen)
    with pytest.raises(BoardChanged, match="how it stands now"):
        put(scene, "Dee", "tag", seen=seen)
    with pytest.raises(BoardChanged):
        actions.unplace(
            night=scene.night, block=scene.blocks[0], person=scene.people["Ada"], seen=seen
        )
    assert board(scene) == {("Ada", "Drill", 0)}


def test_a_step_keeps_no_name(scene) -> None:
    put(scene, "Ada", "drill")
    kept = Change.objects.get()
    assert "Ada" not in f"{kept.before}{kept.after}"
