"""Repeating shop nights against the examples of the calendar standard."""

from __future__ import annotations

from datetime import date

from workshops.nights.repeating import Repeat, Weekday, days_of

TU, TH, SU, MO = Weekday.TUESDAY, Weekday.THURSDAY, Weekday.SUNDAY, Weekday.MONDAY


def test_every_other_week_on_tuesday_and_thursday_for_eight_occurrences():
    """RFC 5545, section 3.8.5.3: FREQ=WEEKLY;INTERVAL=2;COUNT=8;WKST=SU;BYDAY=TU,TH."""
    repeat = Repeat(date(1997, 9, 2), {TU, TH}, every_weeks=2, count=8, week_starts=SU)
    september = [date(1997, 9, day) for day in (2, 4, 16, 18, 30)]
    assert days_of(repeat) == september + [date(1997, 10, day) for day in (2, 14, 16)]


def test_the_week_begins_on_monday_in_the_first_of_the_two_examples():
    """RFC 5545, section 3.8.5.3: FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=MO."""
    repeat = Repeat(date(1997, 8, 5), {TU, SU}, every_weeks=2, count=4, week_starts=MO)
    assert days_of(repeat) == [date(1997, 8, day) for day in (5, 10, 19, 24)]


def test_the_same_rule_gives_other_days_when_the_week_begins_on_sunday():
    """RFC 5545, section 3.8.5.3: FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=SU."""
    repeat = Repeat(date(1997, 8, 5), {TU, SU}, every_weeks=2, count=4, week_starts=SU)
    assert days_of(repeat) == [date(1997, 8, day) for day in (5, 17, 19, 31)]


def test_an_end_by_day_counts_that_day_itself():
    """RFC 5545, section 3.3.10: UNTIL bounds the recurrence in an inclusive manner."""
    repeat = Repeat(date(1997, 9, 2), {TU, TH}, every_weeks=2, until=date(1997, 9, 18))
    assert days_of(repeat) == [date(1997, 9, day) for day in (2, 4, 16, 18)]
