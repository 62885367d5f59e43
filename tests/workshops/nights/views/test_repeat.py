"""The page that puts repeating nights on the calendar."""

from __future__ import annotations

from datetime import date

import pytest

from tests.factories import make_night
from workshops.nights.models import Night
from workshops.nights.refusals import NightRefused
from workshops.nights.repeating import MOST, Repeat, Weekday, days_of

pytestmark = pytest.mark.django_db

PAGE = "/teal-point/nights/repeat/"
GIVEN = {
    "first": "2026-02-03", "weekdays": ["1", "3"], "every_weeks": "2", "count": "4",
    "week_starts": "0", "kind": "mixed", "doors": "18:00", "stop": "20:30", "lock_up": "21:00",
}  # fmt: skip


def test_four_nights_of_every_other_week_stand_on_the_calendar(shop, boss) -> None:
    shown = boss.post(PAGE, GIVEN, follow=True).content.decode()
    assert "4 nights put on the calendar." in shown
    days = list(Night.objects.values_list("date", flat=True))
    assert days == [date(2026, 2, day) for day in (3, 5, 17, 19)]
    assert Night.objects.first().blocks.count() == 3


def test_a_day_that_has_a_night_keeps_it(shop, boss) -> None:
    make_night(shop, date=date(2026, 2, 5), goal="Sixty heads")
    shown = boss.post(PAGE, GIVEN, follow=True).content.decode()
    assert "3 nights put on the calendar. 1 of the days had one already and kept it." in shown
    assert Night.objects.get(date=date(2026, 2, 5)).goal == "Sixty heads"


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"count": "", "until": ""}, "End: give the number of nights or the last day"),
        ({"until": "2026-03-01"}, "End: give the number of nights or the last day"),
        ({"count": "", "until": "2026-01-01"}, "Last day: that is before the first."),
        ({"stop": "17:00"}, "Times: the doors open before the stop"),
    ],
)
def test_what_makes_no_sense_is_refused_and_nothing_is_added(shop, boss, change, says) -> None:
    answer = boss.post(PAGE, GIVEN | change)
    assert answer.status_code == 422
    assert says in answer.content.decode()
    assert not Night.objects.exists()


def test_no_slip_of_the_pen_fills_the_calendar() -> None:
    every_day = Repeat(date(2026, 1, 1), set(Weekday), until=date(2126, 1, 1))
    with pytest.raises(NightRefused, match=f"more than {MOST} nights"):
        days_of(every_day)
