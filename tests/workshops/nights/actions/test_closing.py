"""Nobody goes home before the watch is signed, and what is signed stays signed."""

from __future__ import annotations

import pytest

from tests.factories import make_bar
from tests.workshops.nights.hot import open_permit
from workshops.nights import actions
from workshops.nights.models import HandOver, HotWorkPermit, Night
from workshops.nights.refusals import NightRefused
from workshops.stations.models import Station


def permit_of(scene, watcher: str = "Cy") -> HotWorkPermit:
    return open_permit(scene.night, scene.people[watcher], scene.at("18:20"))


def spark(scene, clock: str = "20:00", at: str = "", **fields) -> actions.Told:
    given = {"station": scene.weld, "struck_by": "Bo Reed"} | fields
    return actions.tell_spark(
        night=scene.night, spark_at=scene.at(clock), at=scene.at(at or clock), **given
    )


def sign(scene, permit: HotWorkPermit, at: str = "21:00", name="Cy Reed") -> HotWorkPermit:
    return actions.end_watch(permit=permit, at=scene.at(at), signed_by=name)


def close(scene, words: str = "Two heads on hold.") -> Night:
    return actions.close_night(
        night=scene.night, words=words, written_by="Dov", at=scene.at("21:05")
    )


def weld_one(scene) -> None:
    actions.tally(
        night=scene.night, operation=scene.operations["weld"], at=scene.at("19:30"), by=None, good=1
    )


def test_the_permit_names_the_watch_and_the_clubs_minutes(scene) -> None:
    permit = permit_of(scene)
    assert (permit.watcher, permit.watch_minutes) == (scene.people["Cy"], 60)


def test_a_watch_without_the_sign_off_is_refused_with_the_reason(scene) -> None:
    with pytest.raises(NightRefused, match=r"Bo R. has no sign-off for Fire watch\."):
        permit_of(scene, "Bo")


def test_a_barred_watch_is_refused(scene) -> None:
    make_bar(scene.people["Cy"], reason="slept on the watch")
    with pytest.raises(NightRefused, match="slept on the watch"):
        permit_of(scene)


def test_one_night_has_one_permit(scene) -> None:
    permit_of(scene)
    with pytest.raises(NightRefused, match="open already"):
        permit_of(scene)


def test_a_shop_without_a_fire_watch_is_told_to_set_one_up(scene) -> None:
    Station.objects.filter(pk=scene.watch.pk).update(kind=Station.Kind.TAG)
    with pytest.raises(NightRefused, match="Set up the fire watch"):
        permit_of(scene)


def test_the_watch_cannot_be_signed_a_minute_too_early(scene) -> None:
    permit = permit_of(scene)
    spark(scene)
    with pytest.raises(NightRefused, match="lasts until 21:00"):
        sign(scene, permit, at="20:59")
    assert sign(scene, permit).watch_ended_at == scene.at("21:00")


def test_a_last_spark_before_the_doors_does_not_shorten_the_watch(scene) -> None:
    permit_of(scene)
    with pytest.raises(NightRefused, match="doors opened at 18:00"):
        spark(scene, "08:00", at="19:00")


def test_the_watch_is_signed_by_name_and_once(scene) -> None:
    permit = permit_of(scene)
    spark(scene)
    with pytest.raises(NightRefused, match="by name"):
        sign(scene, permit, name="  ")
    sign(scene, permit)
    with pytest.raises(NightRefused, match="signed already, by Cy Reed"):
        sign(scene, permit, name="Bo Reed")


def test_a_quiet_night_closes_with_its_hand_over(scene) -> None:
    assert close(scene).status == Night.Status.CLOSED
    assert HandOver.objects.get().words == "Two heads on hold."


def test_a_night_does_not_close_while_somebody_is_in(scene) -> None:
    actions.sign_in(night=scene.night, person=scene.people["Ada"], at=scene.at("18:00"))
    with pytest.raises(NightRefused, match="still on the roll: Ada"):
        close(scene)


def test_hot_work_without_a_permit_keeps_the_night_open(scene) -> None:
    weld_one(scene)
    with pytest.raises(NightRefused, match="no permit was opened"):
        close(scene)


def test_hot_work_taken_back_needs_no_permit(scene) -> None:
    weld_one(scene)
    row = scene.night.tallies.get()
    actions.undo_tally(tally=row, at=scene.at("19:31"), by=None)
    assert close(scene).status == Night.Status.CLOSED


def test_an_unsigned_watch_keeps_the_night_open(scene) -> None:
    permit = permit_of(scene)
    with pytest.raises(NightRefused, match="has not signed the end of the fire watch"):
        close(scene)
    spark(scene)
    sign(scene, permit)
    assert close(scene).status == Night.Status.CLOSED


def test_a_night_closes_once(scene) -> None:
    close(scene)
    with pytest.raises(NightRefused, match="closed already"):
        close(scene, "something else")
    assert HandOver.objects.get().words == "Two heads on hold."


def test_a_cancelled_night_takes_no_permit_and_does_not_close(scene) -> None:
    actions.cancel_night(night=scene.night, reason="snow")
    for step in (permit_of, close):
        with pytest.raises(NightRefused, match="is cancelled"):
            step(scene)
