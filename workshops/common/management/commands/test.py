"""``python3 manage.py test``: the tests, by pytest."""

from __future__ import annotations

import subprocess
import sys

from django.conf import settings
from django.core.management.base import BaseCommand


class Command(BaseCommand):
    """Takes the place of Django's own runner, which knows none of our fixtures."""

    help = "Runs the tests with pytest and passes everything after “test” on to it."

    def run_from_argv(self, argv: list[str]) -> None:
        """Hand the words after ``test`` to pytest as they are, and end as it ends."""
        run = [sys.executable, "-m", "pytest", *argv[2:]]
        sys.exit(subprocess.call(run, cwd=settings.BASE_DIR))
