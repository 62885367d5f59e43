"""``python3 manage.py bench [name ...]``: how fast the engines and pages are here."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandParser

from workshops.common import bench


class Command(BaseCommand):
    """Prints one table a measurement; nothing passes or fails by it."""

    help = "Measures engines and pages on this machine (tests/bench) and prints the medians."

    def add_arguments(self, parser: CommandParser) -> None:
        """Which measurements; all of them unless named."""
        parser.add_argument("name", nargs="*", help="which ones; all unless named")

    def handle(self, *_args: Any, **options: Any) -> None:
        """Run each and print its table as soon as it is there."""
        folder = settings.BASE_DIR / "tests" / "bench"
        for name in options["name"] or bench.names(folder):
            self.stdout.write(bench.table(name, bench.run(name, folder)) + "\n\n")
            self.stdout.flush()
