"""Times of a night as minutes, in the shop's own time zone."""

from __future__ import annotations

from datetime import UTC, datetime, time

from tests.factories import make_night
from workshops.nights.clock import minutes, minutes_of, moment, spell, today_in


def test_a_time_is_minutes_after_midnight() -> None:
    assert minutes(time(18, 30)) == 1110
    assert spell(1110) == "18:30"


def test_after_midnight_the_clock_starts_anew() -> None:
    assert spell(24 * 60 + 5) == "00:05"


def test_a_moment_counts_from_the_midnight_of_the_nights_date(shop) -> None:
    night = make_night(shop)
    assert minutes_of(datetime(2026, 1, 15, 0, 15, tzinfo=UTC), night) == 18 * 60 + 15
    assert minutes_of(datetime(2026, 1, 15, 6, 15, tzinfo=UTC), night) == 24 * 60 + 15


def test_a_time_of_the_night_is_a_moment_in_the_shops_zone(shop) -> None:
    at = moment(make_night(shop), time(20, 30))
    assert at == datetime(2026, 1, 15, 2, 30, tzinfo=UTC)


def test_today_is_the_shops_day(shop) -> None:
    assert today_in(shop, datetime(2026, 1, 15, 3, 0, tzinfo=UTC)).day == 14
