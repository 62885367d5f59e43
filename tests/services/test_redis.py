"""Jobs on Celery over a real Redis, in a real worker."""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.migrated import copy_migrated
from tests.services.site import ROOT, START, environment, manage, python

pytestmark = pytest.mark.services

ASK = """
from inventory.places.models import Shop
from workshops.common import jobs, registry
from workshops.common.models import Job
registry.KINDS.setdefault("make_ready", registry.Kind("Make ready", dict, ()))
print(jobs.start("make_ready", shop=Shop.objects.get(), by=None).pk)
"""
TELL = """
from workshops.common.models import Job
job = Job.objects.get(pk={pk})
print(job.state, job.process.split()[1] if " " in job.process else job.process, job.message)
"""


@pytest.fixture(scope="module")
def variables(redis_url: str, tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """A site on SQLite and Redis, with a club in it."""
    path = tmp_path_factory.mktemp("site") / "site.sqlite3"
    variables = {"REDIS_URL": redis_url, "DATABASE_URL": copy_migrated(path)}
    manage(*START, **variables)
    return variables


@pytest.fixture
def worker(variables: dict[str, str], tmp_path: Path) -> Iterator[subprocess.Popen[bytes]]:
    """A worker, as DEVELOPERS.md starts it."""
    run = [sys.executable, "-m", "celery", "-A", "workshops", "worker", "--pool", "solo"]
    with (tmp_path / "worker.log").open("wb") as log:
        process = subprocess.Popen(
            run, cwd=ROOT, env=environment(**variables), stdout=log, stderr=log
        )
        yield process
        process.terminate()
        process.wait(20)


def outcome(pk: str, variables: dict[str, str]) -> list[str]:
    """State, process and message of the job, once it has ended."""
    for _ in range(40):
        told = python(TELL.format(pk=pk), **variables).split(maxsplit=2)
        if told[0] not in ("waiting", "running"):
            return told
        time.sleep(0.25)
    return told


def test_a_job_is_run_by_the_worker_and_not_by_the_site(
    variables: dict[str, str], worker: subprocess.Popen[bytes]
) -> None:
    pk = python(ASK, **variables)
    state, process, message = outcome(pk, variables)
    # The worker does not know this kind of job, and says so: it was the worker that looked.
    assert (state, process) == ("failed", str(worker.pid))
    assert "make_ready" in message


def test_a_job_waits_in_redis_until_a_worker_comes(variables: dict[str, str]) -> None:
    pk = python(ASK, **variables)
    assert python(TELL.format(pk=pk), **variables) == "waiting queue"


def test_a_job_says_so_when_redis_is_gone(variables: dict[str, str]) -> None:
    gone = variables | {"REDIS_URL": "redis://127.0.0.1:9/0"}
    pk = python(ASK, **gone)
    state, _, message = python(TELL.format(pk=pk), **variables).split(maxsplit=2)
    assert (state, "Redis" in message) == ("failed", True)
