"""Loading the demo winter into a database, and the command that does it."""

from __future__ import annotations

import os
import subprocess
import sys
from datetime import date, datetime
from io import StringIO
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
import time_machine
from django.conf import settings
from django.core.management import CommandError, call_command
from django.db import transaction

from inventory.ledger.actions import NotEnough
from inventory.ledger.models import Balance, Entry
from inventory.places.models import Shop
from tests import factories
from tests.migrated import copy_migrated
from workshops.access.models import Membership, User
from workshops.home.demo import book
from workshops.home.demo.files import Row, read
from workshops.home.demo.load import load_demo
from workshops.nights.models import Night, Placing, RollLine, SignUp, Tally
from workshops.people.models import SignOff

WEDNESDAY, SATURDAY, SUNDAY = date(2026, 1, 14), date(2026, 1, 17), date(2026, 1, 18)


def told(today: date) -> dict[str, list[Any]]:
    """What a load makes, without the numbers that the database gives; taken back again."""
    with transaction.atomic():
        load_demo(today=today)
        found = {
            "sign_ups": SignUp.objects.values_list(
                "night__date", "person__email", "answer", "arrives", "answered_at"
            ),
            "roll": RollLine.objects.values_list("person__email", "in_at", "out_at"),
            "placings": Placing.objects.values_list(
                "block__index", "night__date", "person__email", "station__slug", "bench", "role"
            ),
            "tallies": Tally.objects.values_list("operation__slug", "good", "client_key"),
            "entries": Entry.objects.values_list("kind", "at", "reason"),
            "balances": Balance.objects.values_list("item__slug", "length_um", "quantity"),
            "sign_offs": SignOff.objects.values_list("person__email", "level", "valid_until"),
        }
        rows = {name: sorted(map(repr, query)) for name, query in found.items()}
        transaction.set_rollback(True)
    return rows


def test_two_loads_on_one_day_give_the_same_rows(db: None) -> None:
    assert told(WEDNESDAY) == told(WEDNESDAY)


# A weekend, an ordinary Thursday, a new year's day, a leap day.
@pytest.mark.parametrize(
    "today", [SATURDAY, SUNDAY, date(2026, 1, 15), date(2027, 1, 1), date(2028, 2, 29)]
)
def test_any_day_has_a_night_planned_and_nights_behind(db: None, today: date) -> None:
    # The book takes no entry from a day that is still to come, so the clock stands at that day.
    evening = datetime(today.year, today.month, today.day, 18, tzinfo=ZoneInfo("America/Chicago"))
    with time_machine.travel(evening, tick=False):
        shop = load_demo(today=today)
    tonight = Night.objects.get(shop=shop, date=today)
    assert tonight.status == Night.Status.PLANNED
    assert tonight.sign_ups.filter(answer="yes").count() >= 20
    assert Night.objects.filter(shop=shop, date__lt=today).count() >= 6


def test_files_that_use_more_than_was_delivered_are_refused_whole(
    db: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    def without_wire(name: str) -> Row:
        found = read(name)
        found["goods_in"] = [row for row in found["goods_in"] if row["item"] != "welded-wire"]
        return found

    monkeypatch.setattr(book, "read", without_wire)
    with pytest.raises(NotEnough, match="Welded wire"):
        load_demo(today=WEDNESDAY)
    assert not Shop.objects.exists()


def test_the_command_names_the_night_and_the_sign_ins(db: None) -> None:
    said = StringIO()
    call_command("load_demo", today="2026-01-14", stdout=said)
    assert "a night on Wednesday 14 January 2026" in said.getvalue()
    assert all(role.replace("_", " ") in said.getvalue() for role in Membership.Role.values)
    call_command("load_demo", stdout=said)
    assert "stays as it is" in said.getvalue()


def test_the_command_refuses_what_is_no_day(db: None) -> None:
    with pytest.raises(CommandError, match="“soon” is not a day"):
        call_command("load_demo", today="soon")


def test_the_command_refuses_a_day_that_is_still_to_come(db: None, clock: object) -> None:
    with pytest.raises(CommandError, match="still to come"):
        call_command("load_demo", today="2027-01-14")
    assert not Shop.objects.exists()


def test_a_name_that_somebody_signs_in_under_is_not_taken_over(db: None) -> None:
    User.objects.create_user("storekeeper")
    with pytest.raises(CommandError, match="already signs in as “storekeeper”"):
        call_command("load_demo", today="2026-01-14")
    assert not Shop.objects.exists()


def test_a_fresh_start_needs_a_database_file(db: None) -> None:
    with pytest.raises(CommandError, match="make a new database"):
        call_command("load_demo", fresh=True)


ON_A_FILE = """
import django
django.setup()
from django.core.management import CommandError, call_command
from inventory.places.models import Shop
call_command("load_demo", today="2026-01-14")
call_command("load_demo", fresh=True, today="2026-01-15")
Shop.objects.create(name="Reedholm", slug="reedholm")
try:
    call_command("load_demo", fresh=True)
except CommandError as refused:
    print(refused)
print(*Shop.objects.all(), sep=" and ")
"""


def test_a_fresh_start_replaces_the_demo_and_spares_other_shops(tmp_path: Path) -> None:
    database = {"DATABASE_URL": copy_migrated(tmp_path / "demo.sqlite3")}
    done = subprocess.run(
        [sys.executable, "-c", ON_A_FILE], cwd=settings.BASE_DIR, env=os.environ | database,
        capture_output=True, text=True, timeout=120, check=True,
    )  # fmt: skip
    assert "is loaded, with a night on Wednesday 14 January 2026" in done.stdout
    assert "is loaded, with a night on Thursday 15 January 2026" in done.stdout
    assert "also holds Reedholm" in done.stdout
    assert "Quillmere Winter Shop and Reedholm" in done.stdout


def test_other_shops_are_left_alone(db: None) -> None:
    other = factories.make_shop()
    demo = load_demo(today=WEDNESDAY)
    assert set(Shop.objects.all()) == {other, demo}
    assert not other.person_set.exists()
