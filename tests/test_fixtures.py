"""Fixtures: every file can be read, and the demo lays itself out around any day."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest

from inventory.places.models import Shop
from workshops.home.demo.load import load_demo
from workshops.nights.models import Night

ROOT = Path(__file__).resolve().parent.parent
FILES = sorted((ROOT / "fixtures").rglob("*.json"))


def test_there_are_fixtures() -> None:
    assert FILES


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(ROOT)))
def test_a_fixture_is_json_and_gives_no_key_twice(path: Path) -> None:
    def once(pairs: list[tuple[str, object]]) -> dict[str, object]:
        assert len({key for key, _ in pairs}) == len(pairs), f"a key twice in {path}"
        return dict(pairs)

    json.loads(path.read_text(encoding="utf-8"), object_pairs_hook=once)


# A Wednesday, the day after it, a new year's day, and a 29 February.
DAYS = [date(2026, 1, 14), date(2026, 1, 15), date(2027, 1, 1), date(2028, 2, 29)]


@pytest.mark.django_db
@pytest.mark.parametrize("today", DAYS)
def test_the_demo_has_a_night_today_or_tomorrow_and_nights_behind(today: date) -> None:
    shop = load_demo(today=today)
    days = [(night.date - today).days for night in Night.objects.filter(shop=shop)]
    assert {0, 1} & set(days)
    assert sum(day < 0 for day in days) >= 6


@pytest.mark.django_db
def test_loading_the_demo_twice_changes_nothing() -> None:
    first = load_demo(today=DAYS[0])
    nights = Night.objects.count()
    assert load_demo(today=DAYS[1]) == first
    assert (Shop.objects.count(), Night.objects.count()) == (1, nights)
