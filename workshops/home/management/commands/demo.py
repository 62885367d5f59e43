"""``python3 manage.py demo``: the demo winter, the main job on it, and the site."""

from __future__ import annotations

import time
from datetime import date, datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser

from inventory.places.models import Shop
from workshops.access.actions import NameTaken
from workshops.common import serving
from workshops.home.demo.files import read
from workshops.home.demo.fresh import FreshRefused, start_afresh
from workshops.home.demo.job import Bench, run_steps
from workshops.home.demo.load import demo_shop, load_demo
from workshops.home.demo.people import DEMO_PASSWORD, sign_ins
from workshops.home.demo.steps import STEPS


class Command(BaseCommand):
    """Loads once, never destroys without ``--fresh``, runs the job, serves."""

    help = "Loads the demo winter, plans tonight, writes cards, cut list and outlook, serves."

    def add_arguments(self, parser: CommandParser) -> None:
        """Whether to serve, where, where the files go, and whether to begin anew."""
        serving.add_arguments(parser)
        parser.add_argument("--no-serve", action="store_true", help="stop after the job")
        parser.add_argument("--fresh", action="store_true", help="delete the demo, load it anew")
        parser.add_argument(
            "--output", type=Path, default=settings.BASE_DIR / "demo-output",
            help="the folder the files are written to (./demo-output)",
        )  # fmt: skip

    def handle(self, *_args: Any, **options: Any) -> None:
        """Load, run, tell, serve."""
        began = time.monotonic()
        if not options["no_serve"]:
            serving.refuse_taken(options["host"], options["port"])
        shop, today = self._load(is_fresh=options["fresh"])
        bench = Bench(shop, today, options["output"])
        for path in run_steps(bench, self.stdout.write, STEPS):
            self.stdout.write(f"written: {_near(path)}")
        self.stdout.write(f"\nAll of it took {time.monotonic() - began:.0f} s.")
        if not options["no_serve"]:
            self._tell_sign_ins()
            serving.serve(self.stdout, host=options["host"], port=options["port"])

    def _load(self, *, is_fresh: bool) -> tuple[Shop, date]:
        try:
            if is_fresh:
                start_afresh()
        except FreshRefused as refused:
            raise CommandError(f"--fresh: {refused}") from refused
        serving.make_ready(self.stdout)
        today = datetime.now(ZoneInfo(read("shop")["shop"]["time_zone"])).date()
        was_there = demo_shop() is not None
        try:
            shop = load_demo(today=today)
        except NameTaken as taken:
            raise CommandError(str(taken)) from taken
        says = "was loaded before and is used again" if was_there else "is loaded"
        self.stdout.write(f"The demo winter of {shop.name} {says}.")
        return shop, today

    def _tell_sign_ins(self) -> None:
        self.stdout.write(f"\nSign in with the password {DEMO_PASSWORD} as:")
        for username, role in sign_ins():
            self.stdout.write(f"  {username:12} {role.replace('_', ' ')}")


def _near(path: Path) -> str:
    """The path as seen from where the command was given, when it is below."""
    here = Path.cwd()
    return f"./{path.relative_to(here)}" if path.is_relative_to(here) else str(path)
