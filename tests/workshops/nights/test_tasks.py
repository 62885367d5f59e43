"""Planning as a job: it says what came out, or why it could not be."""

from __future__ import annotations

import pytest

from tests.factories import take_back
from workshops.common.jobs import run_now, start
from workshops.common.models import Job
from workshops.nights import actions
from workshops.nights.models import Night, PlacingRun

pytestmark = pytest.mark.usefixtures("material")


def planned(scene, **arguments) -> Job:
    return run_now(start("plan_night", shop=scene.shop, by=None, **arguments))


def test_a_plan_is_a_job_that_leads_back_to_the_night(scene, coordinator) -> None:
    job = run_now(start("plan_night", shop=scene.shop, by=coordinator, night=scene.night.pk))
    assert job.state == Job.State.DONE
    assert job.result["next"] == f"/{scene.shop.slug}/nights/2026-01-14/"
    assert PlacingRun.objects.get(pk=job.result["run"]).made_by == coordinator


def test_with_nobody_coming_the_plan_is_empty_and_says_who_could_be_asked(scene) -> None:
    scene.night.sign_ups.all().delete()
    job = planned(scene, night=scene.night.pk)
    assert job.state == Job.State.DONE
    assert job.result["says"].startswith("Nobody could be placed.")
    closed = PlacingRun.objects.get(pk=job.result["run"]).result["closed"]
    assert any("Bo R. could, and is not here" in row["reason"] for row in closed)


def test_something_fixed_that_breaks_a_rule_is_told_by_the_rule(scene) -> None:
    ada = scene.people["Ada"]
    actions.place(night=scene.night, block=scene.blocks[0], person=ada, station=scene.drill)
    take_back(ada.sign_offs.get())
    job = planned(scene, night=scene.night.pk)
    assert job.state == Job.State.FAILED
    assert job.message.startswith("Ada R. has no sign-off for Drill.")


def test_a_night_of_another_shop_is_not_planned(scene, other_shop) -> None:
    job = run_now(start("plan_night", shop=other_shop, by=None, night=scene.night.pk))
    assert job.state == Job.State.FAILED
    assert not PlacingRun.objects.exists()


def test_a_closed_night_is_told(scene) -> None:
    Night.objects.update(status=Night.Status.CLOSED)
    assert "is closed" in planned(scene, night=scene.night.pk).message
