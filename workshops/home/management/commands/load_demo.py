"""Load the demo winter into the database."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from django.core.management.base import BaseCommand, CommandError, CommandParser

from inventory.ledger.actions import PostingRefused
from workshops.access.actions import NameTaken
from workshops.home.demo.files import read
from workshops.home.demo.fresh import FreshRefused, start_afresh
from workshops.home.demo.load import demo_shop, load_demo
from workshops.home.demo.people import DEMO_PASSWORD, sign_ins


class Command(BaseCommand):
    """``manage.py load_demo``."""

    help = "Load the demo winter: an invented club, half a winter behind it, a night today."

    def add_arguments(self, parser: CommandParser) -> None:
        """Take the day that counts as today, and whether to start anew."""
        parser.add_argument("--today", metavar="YYYY-MM-DD", help="the day of tonight's night")
        parser.add_argument(
            "--fresh", action="store_true", help="delete the demo's database file first"
        )

    def handle(self, *_args: Any, **options: Any) -> None:
        """Load it, or say that it is there already, and name the sign-ins."""
        today = _today(options["today"])
        if options["fresh"]:
            try:
                start_afresh()
            except FreshRefused as refused:
                raise CommandError(str(refused)) from refused
        was_there = demo_shop() is not None
        try:
            shop = load_demo(today=today)
        except (NameTaken, PostingRefused) as refused:
            # A day still to come as well: its book would tell what has not happened.
            raise CommandError(str(refused)) from refused
        self.stdout.write(
            f"{shop.name} was loaded before and stays as it is; --fresh starts it anew."
            if was_there
            else f"{shop.name} is loaded, with a night on {today:%A %d %B %Y}."
        )
        self.stdout.write(f"Sign in with the password {DEMO_PASSWORD} as:")
        for username, role in sign_ins():
            self.stdout.write(f"  {username:12} {role.replace('_', ' ')}")


def _today(text: str | None) -> date:
    """The day given, or else today in the demo's time zone."""
    if text is None:
        return datetime.now(ZoneInfo(read("shop")["shop"]["time_zone"])).date()
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise CommandError(f"--today: “{text}” is not a day. Write one like 2026-01-14.") from None
