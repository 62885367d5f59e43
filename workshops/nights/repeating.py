"""The days of nights that repeat: every other Tuesday and Thursday until the ice goes.

Source
------
RFC 5545, section 3.3.10 (recurrence rule), worked out by python-dateutil.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date, datetime, time
from enum import IntEnum

from dateutil.rrule import WEEKLY, rrule

from workshops.nights.refusals import NightRefused

MOST = 120  # more nights than any winter has: a slip of the pen fills no calendar


class Weekday(IntEnum):
    """The days of the week, Monday first."""

    MONDAY = 0
    TUESDAY = 1
    WEDNESDAY = 2
    THURSDAY = 3
    FRIDAY = 4
    SATURDAY = 5
    SUNDAY = 6


@dataclass(frozen=True, slots=True)
class Repeat:
    """Which days: on ``weekdays`` of every so many weeks, from ``first`` on.

    Ends after ``count`` days or with the day ``until``, one of the two. With more than one
    week between, ``week_starts`` decides which days fall into one week.
    """

    first: date
    weekdays: Collection[Weekday]
    every_weeks: int = 1
    count: int | None = None
    until: date | None = None
    week_starts: Weekday = Weekday.MONDAY


def days_of(repeat: Repeat) -> list[date]:
    """The days of a repetition, earliest first; ``first`` only when it is one of the weekdays.

    Raises
    ------
    NightRefused
        Without a weekday or an end, with both ends, or with more days than a winter has.
    """
    if not repeat.weekdays:
        raise NightRefused("Days: tick at least one day of the week.")
    if (repeat.count is None) == (repeat.until is None):
        raise NightRefused("End: give the number of nights or the last day, one of the two.")
    if repeat.every_weeks < 1 or (repeat.count is not None and repeat.count < 1):
        raise NightRefused("Weeks and nights are counted from one.")
    if repeat.until is not None and repeat.until < repeat.first:
        raise NightRefused("Last day: that is before the first.")
    rule = rrule(
        WEEKLY, dtstart=_midnight(repeat.first), interval=repeat.every_weeks,
        wkst=int(repeat.week_starts), byweekday=sorted(int(day) for day in repeat.weekdays),
        count=repeat.count, until=_midnight(repeat.until) if repeat.until else None,
    )  # fmt: skip
    days: list[date] = []
    # One by one, because a rule without sense has days for centuries.
    for found in rule:
        days.append(found.date())
        if len(days) > MOST:
            raise NightRefused(f"That makes more than {MOST} nights: end it sooner.")
    return days


def _midnight(day: date) -> datetime:
    return datetime.combine(day, time())
