"""The outlook as a job: it leads to the winter, or says what is missing."""

from __future__ import annotations

import pytest

from workshops.common.jobs import run_now, start
from workshops.common.models import Job
from workshops.season import tasks
from workshops.season.models import OutlookRun


def worked_out(season, **fields) -> Job:
    usual = {"shop": season.shop, "winter": season.winter.pk}
    return run_now(start("outlook", by=None, **(usual | fields)))


@pytest.fixture
def few_winters(monkeypatch) -> None:
    """A hundred drawn winters in place of ten thousand."""
    whole = tasks.actions.work_out_outlook
    monkeypatch.setattr(
        tasks.actions, "work_out_outlook", lambda **given: whole(winters=100, **given)
    )


def test_an_outlook_is_a_job_that_leads_to_the_winter(season, few_winters) -> None:
    season.want()
    job = worked_out(season)
    assert job.state == Job.State.DONE, job.message
    assert job.result["next"] == "/teal-point/winter/"
    assert job.result["run"] == OutlookRun.objects.get().pk


def test_without_a_target_the_job_says_what_to_do_first(season) -> None:
    job = worked_out(season)
    assert job.state == Job.State.FAILED
    assert job.message.startswith("Set the target first")


def test_a_winter_of_another_shop_is_not_worked_out(season, other_shop) -> None:
    job = worked_out(season, shop=other_shop)
    assert job.state == Job.State.FAILED
    assert not OutlookRun.objects.exists()
