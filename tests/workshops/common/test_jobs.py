"""Jobs: queued on commit, run once, honest when they fail or are cut off."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable
from threading import Event
from typing import Any

import pytest
from django.utils import timezone
from kombu.exceptions import OperationalError

from inventory.places.models import Shop
from workshops.access.models import User
from workshops.common import jobs, processes, registry
from workshops.common.models import Job

Queue = Callable[..., Any]


@pytest.fixture(autouse=True)
def kinds(monkeypatch: pytest.MonkeyPatch) -> None:
    """Kinds of jobs that exist only in this file."""
    monkeypatch.setattr(registry, "KINDS", {})
    monkeypatch.setattr(jobs, "KINDS", registry.KINDS)

    @jobs.job("count_posts", title="Count the posts")
    def count_posts(running: jobs.Running, *, rack: int) -> dict[str, Any]:
        running.say(40, "counting")
        zone = timezone.get_current_timezone_name()
        return {"says": f"{rack} posts for {running.by}", "zone": zone}

    @jobs.job("refuse", refusals=(LookupError,))
    def refuse(running: jobs.Running, *, kindly: bool) -> dict[str, Any]:
        if kindly:
            raise LookupError("The rack is empty: count it first.")
        raise ZeroDivisionError("no posts")


def make_job(shop: Shop, **fields: Any) -> Job:
    usual = {"kind": "count_posts", "arguments": {"rack": 12}}
    return Job.objects.create(shop=shop, **(usual | fields))


def test_a_job_runs_when_its_transaction_is_committed(
    coordinator: User, shop: Shop, django_capture_on_commit_callbacks: Queue
) -> None:
    with django_capture_on_commit_callbacks(execute=True):
        job = jobs.start("count_posts", shop=shop, by=coordinator, rack=12)
        assert job.state == Job.State.WAITING
    job.refresh_from_db()
    assert (job.state, job.progress, job.message) == ("done", 100, "12 posts for carla")


def test_a_job_works_in_the_time_zone_of_its_shop(shop: Shop) -> None:
    assert jobs.run_now(make_job(shop)).result["zone"] == "America/Chicago"


def test_a_kind_that_nobody_registered_is_refused_with_those_that_are(shop: Shop) -> None:
    with pytest.raises(KeyError, match="count_posts, refuse"):
        jobs.start("count_geese", shop=shop, by=None)
    assert not Job.objects.exists()


def test_a_job_delivered_twice_runs_once(shop: Shop) -> None:
    first = jobs.run_now(make_job(shop))
    second = jobs.run_now(first.pk)
    assert second.started_at == first.started_at


def test_a_refusal_is_told_in_its_own_words(shop: Shop) -> None:
    job = jobs.run_now(make_job(shop, kind="refuse", arguments={"kindly": True}))
    assert (job.state, job.message) == ("failed", "The rack is empty: count it first.")


def test_an_unexpected_error_is_told_plainly_and_logged_whole(
    shop: Shop, caplog: pytest.LogCaptureFixture
) -> None:
    job = jobs.run_now(make_job(shop, kind="refuse", arguments={"kindly": False}))
    assert job.state == "failed"
    assert "ZeroDivisionError" not in job.message
    assert "ZeroDivisionError" in caplog.text


def test_a_job_of_an_older_site_fails_with_its_name(shop: Shop) -> None:
    job = jobs.run_now(make_job(shop, kind="knit"))
    assert (job.state, "knit" in job.message) == ("failed", True)


def test_progress_stays_between_nothing_and_all(shop: Shop) -> None:
    job = make_job(shop)
    registry.Running(job).say(130, "more than all")
    job.refresh_from_db()
    assert (job.progress, job.message) == (100, "more than all")


def test_a_job_whose_process_ended_is_marked_as_cut_off(shop: Shop) -> None:
    told = "from workshops.common.processes import this_process; print(this_process())"
    ended = subprocess.run([sys.executable, "-c", told], capture_output=True, text=True, check=True)
    job = make_job(shop, state="running", process=ended.stdout.strip())
    assert jobs.mark_cut_off() == 1
    job.refresh_from_db()
    assert (job.state, "Run it again" in job.message) == ("cut_off", True)


@pytest.mark.parametrize(
    "process",
    [processes.this_process(), processes.QUEUED, "elsewhere 1 2"],
    ids=["this process", "the queue", "another machine"],
)
def test_a_job_whose_process_may_live_is_left_alone(shop: Shop, process: str) -> None:
    make_job(shop, state="running", process=process)
    assert jobs.mark_cut_off() == 0


def test_a_process_number_used_again_is_told_apart_by_its_start() -> None:
    host, number, started = processes.this_process().split()
    assert processes.is_gone(f"{host} {number} {int(started) - 1}")


def test_a_cut_off_job_can_be_run_again_with_what_was_asked(
    shop: Shop, django_capture_on_commit_callbacks: Queue
) -> None:
    job = make_job(shop, state="cut_off", progress=40)
    with django_capture_on_commit_callbacks(execute=True):
        jobs.again(job)
    job.refresh_from_db()
    assert (job.state, job.message) == ("done", "12 posts for None")


def test_a_job_that_is_done_is_not_run_again(shop: Shop) -> None:
    with pytest.raises(jobs.NotNow, match="nothing to run again"):
        jobs.again(jobs.run_now(make_job(shop)))


def test_a_silent_queue_is_told_on_the_row(
    shop: Shop, settings: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    def silent(*args: Any, **options: Any) -> None:
        raise OperationalError("connection refused")

    monkeypatch.setattr(jobs.celery, "send_task", silent)
    job = make_job(shop)
    jobs._send(job.pk)
    job.refresh_from_db()
    assert (job.state, "Redis" in job.message) == ("failed", True)


def test_the_thread_runs_jobs_in_order_and_outlives_an_error() -> None:
    ran, done = [], Event()

    def work(pk: int) -> None:
        ran.append(pk)
        if pk == 1:
            raise RuntimeError("the database went away")
        done.set()

    thread = jobs.BackgroundThread(work)
    thread.take(1)
    thread.take(2)
    assert done.wait(5)
    assert ran == [1, 2]
