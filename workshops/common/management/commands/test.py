"""``python3 manage.py test``: the tests, by pytest."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Sequence

from django.conf import settings
from django.core.management.base import BaseCommand

# More workers than this take more memory than they save time.
MOST_WORKERS = 4


class Command(BaseCommand):
    """Takes the place of Django's own runner, which knows none of our fixtures."""

    help = "Runs the tests with pytest and passes everything after “test” on to it."

    def run_from_argv(self, argv: list[str]) -> None:
        """Hand the words after ``test`` to pytest as they are, and end as it ends."""
        words = argv[2:]
        run = [sys.executable, "-m", "pytest", *side_by_side(words, os.cpu_count() or 1), *words]
        sys.exit(subprocess.call(run, cwd=settings.BASE_DIR))


def side_by_side(words: Sequence[str], cores: int) -> list[str]:
    """What makes pytest use several cores; nothing when only some of the tests are asked for.

    A few tests are done before a second worker has started, and a debugger needs the terminal.
    """
    some = ("-k", "-m", "-n", "--numprocesses", "--pdb", "--collect-only", "--co", "--lf")
    if cores < 2 or any(not word.startswith("-") or word.startswith(some) for word in words):
        return []
    # In the order of collection: Chromium's tests come first, and they take the longest.
    return ["-n", str(min(cores, MOST_WORKERS)), "--no-loadscope-reorder"]
