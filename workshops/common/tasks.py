"""The one Celery task: run the job of a row."""

from __future__ import annotations

from workshops.common.jobs import RUN_JOB, celery, run_now

__all__ = ["celery", "run_job"]


@celery.task(name=RUN_JOB, acks_late=True)  # type: ignore[untyped-decorator]
def run_job(pk: int) -> None:
    """Run the job here, in the worker."""
    run_now(pk)
