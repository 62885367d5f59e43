"""The Celery worker: ``celery -A workshops worker``. Used when ``REDIS_URL`` is set."""

from __future__ import annotations

import os

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "workshops.settings")
# The apps register their kinds of jobs when Django starts; the task needs its models too.
django.setup()

from workshops.common import tasks  # noqa: E402

app = tasks.celery

__all__ = ["app"]
