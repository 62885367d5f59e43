"""The calendar around the day of loading, whatever day that is."""

from __future__ import annotations

from datetime import date, time, timedelta
from zoneinfo import ZoneInfo

import pytest

from workshops.home.demo.days import Days
from workshops.home.demo.files import read

ZONE = ZoneInfo("America/Chicago")
MONDAY = date(2026, 1, 12)
# Every day of a week, a leap day, a turn of the year, and a day in high summer.
ANY_DAY = [MONDAY + timedelta(days=days) for days in range(7)]
ANY_DAY += [date(2028, 2, 29), date(2026, 12, 31), date(2026, 7, 4)]
NIGHTS = read("nights")["nights"]


@pytest.mark.parametrize("today", ANY_DAY)
def test_there_is_a_night_tonight_and_never_two_on_a_day(today: date) -> None:
    dates = [Days(today, ZONE).night(row) for row in NIGHTS]
    assert today in dates
    assert len(set(dates)) == len(dates) == 21


@pytest.mark.parametrize("today", ANY_DAY)
def test_nights_come_in_the_order_in_which_they_are_told(today: date) -> None:
    dates = [Days(today, ZONE).night(row) for row in NIGHTS]
    assert dates == sorted(dates)


@pytest.mark.parametrize("today", ANY_DAY)
def test_weeknights_are_weeknights_and_saturdays_are_saturdays(today: date) -> None:
    days = Days(today, ZONE)
    for row in NIGHTS:
        weekday = days.night(row).weekday()
        if row.get("day") == "saturday":
            assert weekday == 5
        elif row["week"]:
            assert weekday < 5


@pytest.mark.parametrize("today", ANY_DAY)
def test_half_of_the_winter_is_behind(today: date) -> None:
    dates = [Days(today, ZONE).night(row) for row in NIGHTS]
    assert sum(day < today for day in dates) == 11
    assert sum(day > today for day in dates) == 9


def test_a_leap_day_has_its_anniversary_on_the_day_before() -> None:
    assert Days(date(2028, 2, 29), ZONE).years_ago(1) == date(2027, 2, 28)


def test_hours_are_those_of_the_shop() -> None:
    at = Days(MONDAY, ZONE).at(MONDAY, time(18))
    assert at.utcoffset() == timedelta(hours=-6)
