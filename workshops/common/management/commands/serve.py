"""``python3 manage.py serve``: the site, for a club's own laptop."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from workshops.common import serving


class Command(BaseCommand):
    """Brings the database up to date, tells which jobs were cut off, and serves."""

    help = "Serves the site on this machine until Ctrl+C."

    def add_arguments(self, parser: CommandParser) -> None:
        """The address and the port."""
        serving.add_arguments(parser)

    def handle(self, *_args: Any, **options: Any) -> None:
        """Bring up to date, then serve until somebody stops it."""
        serving.make_ready(self.stdout)
        serving.serve(self.stdout, host=options["host"], port=options["port"])
