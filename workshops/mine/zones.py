"""A time zone written into a calendar, for readers that know no zone by its name.

Source
------
RFC 5545, section 3.6.5: each onset is the local time before the change, in the offset then
left (TZOFFSETFROM).
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from icalendar import Timezone, TimezoneDaylight, TimezoneStandard

DAY, HOUR, MINUTE = timedelta(days=1), timedelta(hours=1), timedelta(minutes=1)


def zone_of(zone: ZoneInfo, first: date, last: date) -> Timezone:
    """The definition of a zone that holds from the first day to the last, both counted.

    Parameters
    ----------
    zone
        The zone; its key is the name that the events use.
    first, last
        The days of the calendar's first and last event.
    """
    made = Timezone()
    made.add("tzid", zone.key)
    start = datetime.combine(first - DAY, time(), zone)
    made.add_component(_rule(start, start))
    for before, after in _changes(zone, start.astimezone(UTC), last + DAY):
        made.add_component(_rule(before.astimezone(zone), after.astimezone(zone)))
    return made


def _changes(zone: ZoneInfo, at: datetime, last: date) -> Iterator[tuple[datetime, datetime]]:
    """The last minute before each change of the offset, and the minute of the change."""
    while at.date() <= last:
        # From the day that has another offset at its end to the hour, and to the minute.
        for step in (DAY, HOUR, MINUTE):
            while at.date() <= last and _offset(zone, at + step) == _offset(zone, at):
                at += step
        if at.date() <= last:
            yield at, at + MINUTE
            at += MINUTE


def _offset(zone: ZoneInfo, at: datetime) -> timedelta:
    return at.astimezone(zone).utcoffset() or timedelta()


def _rule(before: datetime, after: datetime) -> TimezoneStandard | TimezoneDaylight:
    left, reached = before.utcoffset() or timedelta(), after.utcoffset() or timedelta()
    rule = TimezoneDaylight() if after.dst() else TimezoneStandard()
    # The clock on the wall at the moment of the change, had it not been changed.
    rule.add("dtstart", (after.astimezone(UTC) + left).replace(tzinfo=None))
    rule.add("tzoffsetfrom", left)
    rule.add("tzoffsetto", reached)
    rule.add("tzname", after.tzname() or "")
    return rule
