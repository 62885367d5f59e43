"""Days: how they are written, and how long something signed counts."""

from __future__ import annotations

from calendar import monthrange
from datetime import date, timedelta


def spell_day(day: date) -> str:
    """A day as people write it: ``14 Jan 2026``."""
    # The day apart, because strftime has no portable way to leave its zero off.
    return f"{day.day} {day:%b %Y}"


def last_day(signed_on: date, months: int) -> date:
    """The last day on which something counts that counts for so many months.

    Signed on January 14 for twelve months, it counts up to January 13. Where the month is
    too short for the day, it counts to the end of that month.
    """
    # Months counted from 0, or every December would fall into the next year.
    year, month = divmod(signed_on.year * 12 + signed_on.month - 1 + months, 12)
    length = monthrange(year, month + 1)[1]
    if signed_on.day > length:
        return date(year, month + 1, length)
    return date(year, month + 1, signed_on.day) - timedelta(days=1)
