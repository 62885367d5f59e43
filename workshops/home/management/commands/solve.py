"""``python3 manage.py solve <engine> problem.json``: one engine on one problem file."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from inventory.engines.stop import Seconds
from workshops.home.solving import ENGINES, FileRefused, solve_file


class Command(BaseCommand):
    """Prints the plan as JSON; a file it refuses is told on stderr, with exit code 2."""

    help = "Solves a problem file (formats: DEVELOPERS.md) and prints the plan as JSON."
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        """Which engine, which file, how long, which seed."""
        parser.add_argument("engine", choices=sorted(ENGINES))
        parser.add_argument("file", type=Path, help="the problem, as JSON")
        parser.add_argument("--seconds", type=float, default=10, help="stop looking after (10)")
        parser.add_argument("--seed", type=int, default=7, help="the seed of all chance (7)")

    def handle(self, *_args: Any, **options: Any) -> None:
        """Read, solve, print."""
        try:
            if options["seed"] < 0:
                raise FileRefused("--seed: write 0 or more")
            stop = Seconds(options["seconds"])
            plan = solve_file(options["engine"], options["file"], stop=stop, seed=options["seed"])
        except ValueError as refused:
            self.stderr.write(str(refused))
            sys.exit(2)
        self.stdout.write(json.dumps(plan, indent=2, ensure_ascii=False, allow_nan=False))
