"""When things happen in the demo: weeks and days are counted from the day of loading."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from workshops.home.demo.files import Row

THURSDAY, FRIDAY, SATURDAY = 3, 4, 5


@dataclass(frozen=True, slots=True)
class Days:
    """The calendar of a demo loaded on ``today``, in the shop's time zone."""

    today: date
    zone: ZoneInfo

    def day(self, days: int) -> date:
        """So many days from today; before it when negative."""
        return self.today + timedelta(days=days)

    def week(self, weeks: int) -> date:
        """The same day of the week, so many weeks from today."""
        return self.day(7 * weeks)

    def night(self, row: Row) -> date:
        """The date of a night: a week, and a Saturday or else the weeknight.

        The weeknight is the day of the week on which the demo is loaded, and a Thursday
        when that is a Saturday or a Sunday; tonight is today whatever day it is.
        """
        day = self.week(row["week"])
        if row.get("day") == "saturday":
            return day + timedelta(days=SATURDAY - day.weekday())
        if row["week"] and day.weekday() > FRIDAY:
            return day + timedelta(days=THURSDAY - day.weekday())
        return day

    def years_ago(self, years: int, days: int = 0) -> date:
        """The same date so many years before, and so many days on."""
        year = self.today.year - years
        is_leap_day = (self.today.month, self.today.day) == (2, 29)
        day = self.today - timedelta(days=1) if is_leap_day else self.today
        return day.replace(year=year) + timedelta(days=days)

    def at(self, day: date, hour: time) -> datetime:
        """An hour of a day, in the shop's time."""
        return datetime.combine(day, hour, tzinfo=self.zone)


def clock(text: str) -> time:
    """An hour as it stands in a file: ``19:30``."""
    return time.fromisoformat(text)
