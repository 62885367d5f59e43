"""A spark told by the clock after midnight, and a lock-up that sparks move past it."""

from __future__ import annotations

from datetime import time, timedelta

from tests.workshops.nights.hot import open_permit
from workshops.nights import actions
from workshops.nights.clock import moment
from workshops.nights.permit.queries import hot_work_of
from workshops.nights.views.permit import told_moment


def test_a_time_told_after_midnight_is_of_the_day_after(scene) -> None:
    now = moment(scene.night, time(0, 20)) + timedelta(days=1)
    assert told_moment(scene.night, time(0, 5), now) == now - timedelta(minutes=15)
    assert told_moment(scene.night, time(23, 50), now) == now - timedelta(minutes=30)
    assert told_moment(scene.night, None, now) == now


def test_a_time_told_before_midnight_is_of_the_night(scene) -> None:
    now = moment(scene.night, time(23, 50))
    assert told_moment(scene.night, time(0, 5), now) == moment(scene.night, time(0, 5))


def test_a_spark_before_midnight_moves_lock_up_past_it(scene) -> None:
    open_permit(scene.night, scene.people["Cy"], scene.at("18:00"))
    told = actions.tell_spark(
        night=scene.night, station=scene.weld, struck_by="Bo",
        spark_at=scene.at("23:20"), at=scene.at("23:30"),
    )  # fmt: skip
    assert "to 00:20" in told.says
    assert hot_work_of(scene.night).lock_up == scene.at("23:20") + timedelta(minutes=60)
