"""Start jobs, run them, and tell the truth about those that were cut off.

Without Redis one background thread of the site runs them in turn; with ``REDIS_URL``
Celery does. Either way the row is the job: what was asked, how far it is, what came out.
"""

from __future__ import annotations

import logging
from collections.abc import Callable
from functools import partial
from queue import SimpleQueue
from threading import Lock, Thread
from typing import Any

from celery import Celery
from django.conf import settings
from django.contrib.auth.models import AbstractBaseUser
from django.db import close_old_connections, connection, transaction
from django.db.models import QuerySet
from django.utils import timezone
from kombu.exceptions import OperationalError

from inventory.places.models import Shop
from workshops.common.acting import acting_for
from workshops.common.models import Job
from workshops.common.processes import QUEUED, is_gone, this_process
from workshops.common.registry import KINDS, Refused, Running, job

__all__ = ["Refused", "Running", "again", "job", "mark_cut_off", "run_now", "start"]

log = logging.getLogger(__name__)

celery = Celery("winterbench")
celery.config_from_object("django.conf:settings", namespace="CELERY")

RUN_JOB = "common.run_job"
UNFINISHED = (Job.State.WAITING, Job.State.RUNNING)
AGAIN = (Job.State.FAILED, Job.State.CUT_OFF)


class NotNow(ValueError):
    """A job that cannot be run again, because it is running or done."""


def start(kind: str, *, shop: Shop, by: AbstractBaseUser | None, **arguments: Any) -> Job:
    """A new job, queued once the transaction it belongs to is committed.

    Raises
    ------
    KeyError
        When no slice registered such a kind.
    """
    if kind not in KINDS:
        raise KeyError(f"No job is called {kind}; registered: {', '.join(sorted(KINDS))}.")
    started = Job.objects.create(
        kind=kind,
        shop=shop,
        asked_by=by,  # type: ignore[misc]  # the model of users stands a floor above
        arguments=arguments,
        process=_waits_in(),
    )
    transaction.on_commit(partial(_queue, started.pk))
    return started


def again(cut: Job) -> Job:
    """Queue a job that failed or was cut off once more, with the same arguments.

    Raises
    ------
    NotNow
        When it waits, runs or is done.
    """
    ready = Job.objects.filter(pk=cut.pk, state__in=AGAIN).update(
        state=Job.State.WAITING, progress=0, message="", started_at=None, ended_at=None,
        process=_waits_in(),
    )  # fmt: skip
    if not ready:
        raise NotNow("It is waiting, running or done already: there is nothing to run again.")
    transaction.on_commit(partial(_queue, cut.pk))
    cut.refresh_from_db()
    return cut


def run_now(waiting: Job | int) -> Job:
    """Run a waiting job here and give it back with its outcome; any other is left alone.

    Whoever changes the row from waiting to running runs it, so a job delivered twice
    runs once.
    """
    pk = waiting if isinstance(waiting, int) else waiting.pk
    claimed = Job.objects.filter(pk=pk, state=Job.State.WAITING).update(
        state=Job.State.RUNNING, started_at=timezone.now(), process=this_process()
    )
    running = Job.objects.select_related("shop", "asked_by").get(pk=pk)
    if claimed:
        with timezone.override(running.shop.zone):
            _end(running, *_outcome(running))
        running.refresh_from_db()
    return running


def mark_cut_off(jobs: QuerySet[Job] | None = None) -> int:
    """Mark the unfinished jobs whose process has ended; says how many (a query, one a job).

    Called when the site starts and when jobs are shown, so that no page waits for ever.
    """
    unfinished = (Job.objects.all() if jobs is None else jobs).filter(state__in=UNFINISHED)
    gone = [row.pk for row in unfinished if is_gone(row.process)]
    return Job.objects.filter(pk__in=gone, state__in=UNFINISHED).update(
        state=Job.State.CUT_OFF, ended_at=timezone.now(),
        message="The site was restarted before this was finished. Run it again.",
    )  # fmt: skip


def _outcome(running: Job) -> tuple[str, str, dict[str, Any]]:
    kind = KINDS.get(running.kind)
    if kind is None:
        return Job.State.FAILED, f"This site no longer knows a job called {running.kind}.", {}
    try:
        with acting_for(running.asked_by):
            result = kind.work(Running(running), **running.arguments)
    except kind.refusals as refused:
        return Job.State.FAILED, str(refused), {}
    except Exception:
        # The person gets a sentence; whoever keeps the site gets the whole story.
        log.exception("Job %s (%s) failed", running.pk, running.kind)
        says = "Something unexpected stopped this; what it had not finished was not kept. "
        return Job.State.FAILED, says + "Run it again, and tell whoever keeps the site.", {}
    return Job.State.DONE, str(result.get("says", "")), result


def _end(running: Job, state: str, message: str, result: dict[str, Any]) -> None:
    done = {"progress": 100} if state == Job.State.DONE else {}
    Job.objects.filter(pk=running.pk).update(
        state=state, message=message[:300], result=result, ended_at=timezone.now(), **done
    )


def _waits_in() -> str:
    return QUEUED if settings.CELERY_BROKER_URL else this_process()


def _queue(pk: int) -> None:
    if settings.JOBS_RUN_AT_ONCE:
        run_now(pk)
    elif settings.CELERY_BROKER_URL:
        _send(pk)
    else:
        THREAD.take(pk)


def _send(pk: int) -> None:
    try:
        celery.send_task(RUN_JOB, [pk], retry=False)
    except OperationalError:
        log.exception("Job %s could not be queued", pk)
        says = "The queue (Redis) did not answer, so this never started. Run it again."
        Job.objects.filter(pk=pk).update(
            state=Job.State.FAILED, message=says, ended_at=timezone.now()
        )


class BackgroundThread:
    """One thread that runs jobs in the order they came; begins with the first one."""

    def __init__(self, work: Callable[[int], object]) -> None:
        self._work = work
        self._waiting: SimpleQueue[int] = SimpleQueue()
        self._begin = Lock()
        self._thread: Thread | None = None

    def take(self, pk: int) -> None:
        """Add a job to the end of the line."""
        self._waiting.put(pk)
        with self._begin:
            if self._thread is None or not self._thread.is_alive():
                # A daemon: closing the site does not wait; the job is shown as cut off.
                self._thread = Thread(target=self._run, name="winterbench-jobs", daemon=True)
                self._thread.start()

    def _run(self) -> None:
        while True:
            pk = self._waiting.get()
            close_old_connections()
            try:
                self._work(pk)
            except Exception:
                # The database itself failed: the thread must outlive it for the next job.
                log.exception("Job %s could not be run", pk)
            finally:
                connection.close()


THREAD = BackgroundThread(run_now)
