"""What past nights teach: who came when asked, what was made in how long."""

from __future__ import annotations

from tests.factories import make_person
from workshops.nights import actions as nights
from workshops.nights.models import Night
from workshops.season.history import (
    History,
    Turnout,
    history_of,
    made_by_night,
    made_this_winter,
)


def before_today(season) -> History:
    return history_of(season.shop, season.scene.night.date)


def spent(season, name: str, minutes: int, **counted: int) -> None:
    nights.tally(
        night=season.last_week, operation=season.scene.operations[name],
        at=season.scene.at("17:00"), by=None, person_minutes=minutes, **counted,
    )  # fmt: skip


def test_a_turnout_counts_answers_and_coming_apart() -> None:
    turnout = Turnout()
    for answer, came in (("yes", True), ("yes", False), ("no", True), ("maybe", False), ("", True)):
        turnout.note(answer, came)
    assert (turnout.asked, turnout.came) == (5, 3)
    assert (turnout.said_yes, turnout.came_after_yes) == (2, 1)
    assert (turnout.said_no, turnout.came_after_no) == (1, 1)


def test_a_held_night_teaches_who_came(season) -> None:
    season.hold_last_week("Ada", "Bo")
    turnouts = before_today(season).turnouts()
    ada, dee = (turnouts[season.scene.people[name].pk] for name in ("Ada", "Dee"))
    assert (ada.asked, ada.came, dee.asked, dee.came) == (1, 1, 1, 0)


def test_somebody_who_walked_in_counts_too(season) -> None:
    season.hold_last_week()
    fay = make_person(season.shop)
    season.last_week.roll.create(person=fay, in_at=season.scene.at("09:00"))
    assert before_today(season).turnouts()[fay.pk].came == 1


def test_a_cancelled_night_is_lost_and_teaches_nobodys_habit(season) -> None:
    season.hold_last_week("Ada")
    Night.objects.filter(pk=season.last_week.pk).update(status=Night.Status.CANCELLED)
    history = before_today(season)
    [night] = history.past_nights()
    assert not night.held
    assert history.turnouts() == {}


def test_a_past_night_that_was_never_closed_is_not_history(season) -> None:
    assert before_today(season).past_nights() == ()


def test_tonight_is_not_history(season) -> None:
    Night.objects.update(status=Night.Status.CLOSED)
    assert [night.date for night in before_today(season).nights] == [season.last_week.date]


def test_what_was_made_is_added_up_by_operation(season) -> None:
    spent(season, "drill", 60, good=4)
    spent(season, "drill", 30, good=1, hold=1, scrap=2)
    season.hold_last_week("Ada")
    [night] = before_today(season).past_nights()
    [work] = night.work
    assert (work.good, work.scrapped, work.person_minutes) == (6, 2, 90.0)


def test_counts_without_time_or_taken_back_teach_no_rate(season) -> None:
    season.make("drill", 4)
    spent(season, "weld", 60, good=2)
    row = season.last_week.tallies.get(operation=season.scene.operations["weld"])
    nights.undo_tally(tally=row, at=season.scene.at("17:30"), by=None)
    season.hold_last_week("Ada")
    [night] = before_today(season).past_nights()
    assert night.work == ()


def test_another_shops_nights_teach_nothing(season, other_shop) -> None:
    season.hold_last_week("Ada")
    assert history_of(other_shop, season.scene.night.date).nights == []


def test_history_takes_four_queries(season, django_assert_num_queries) -> None:
    season.hold_last_week("Ada")
    with django_assert_num_queries(4):
        before_today(season).past_nights()


def test_sets_made_are_told_by_night(season) -> None:
    season.make("tag", 3)
    season.make("tag", 2, night=season.scene.night)
    season.make("drill", 9)
    item = season.scene.stock.complete.pk
    assert made_by_night(season.winter) == {
        season.last_week.date: {item: 3}, season.scene.night.date: {item: 2},
    }  # fmt: skip


def test_pieces_of_this_winter_are_told_by_operation(season) -> None:
    season.make("drill", 9)
    season.make("drill", 1)
    assert made_this_winter(season.winter) == {season.scene.operations["drill"].pk: 10}
