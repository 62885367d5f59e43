"""Lists, matrix, person page, and who could cover."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Any

import pytest
from django.utils import timezone

from inventory.places.models import Shop
from tests.factories import (
    TODAY,
    make_bar,
    make_minor,
    make_night,
    make_person,
    make_sign_off,
    make_sign_up,
    make_station,
    make_waiver,
)
from workshops.nights.models import RollLine
from workshops.people import queries
from workshops.people.gate import register_on
from workshops.people.models import Person
from workshops.people.queries import Show
from workshops.people.standing import Mark
from workshops.stations.models import Level, Station


@pytest.fixture
def drill(shop: Shop) -> Station:
    """A station for people signed off to work alone."""
    return make_station(shop, name="Drill", level_needed=Level.ALONE)


def ready(shop: Shop, **fields: Any) -> Person:
    """Somebody with a waiver."""
    person = make_person(shop, **fields)
    make_waiver(person)
    return person


def crowd(shop: Shop, size: int) -> None:
    """People with everything a list looks at."""
    for _ in range(size):
        person = ready(shop)
        make_sign_off(person, make_station(shop, level_needed=Level.ALONE))
        make_bar(person)
        make_minor(shop, person)


def test_the_people_list_takes_as_many_queries_for_many_people(
    shop: Shop, django_assert_num_queries: Any
):
    for _ in range(2):
        crowd(shop, 4)
        with django_assert_num_queries(8):
            queries.people_of(shop, TODAY)


def test_people_are_found_by_any_words_of_their_name(shop: Shop):
    ada = make_person(shop, first_name="Ada", last_name="Lindqvist")
    make_person(shop, first_name="Ada", last_name="Berg")
    found = queries.people_of(shop, TODAY, words="LIND ada")
    assert [line.facts.pk for line in found] == [ada.pk]


def test_lists_show_what_is_asked(shop: Shop, drill: Station):
    people = {
        Show.LAPSED: ready(shop), Show.LAPSING: ready(shop), Show.BARRED: ready(shop),
        Show.NO_WAIVER: make_person(shop), Show.MINORS: make_minor(shop),
        Show.COMING: ready(shop), Show.GONE: ready(shop, is_active=False),
    }  # fmt: skip
    make_waiver(people[Show.MINORS])
    make_sign_off(people[Show.LAPSED], drill, valid_until=TODAY - timedelta(days=1))
    make_sign_off(people[Show.LAPSING], drill, valid_until=TODAY + timedelta(days=20))
    make_bar(people[Show.BARRED])
    for show, person in people.items():
        coming = [people[Show.COMING].pk]
        found = queries.people_of(shop, TODAY, show=show, coming=coming)
        assert [line.facts.pk for line in found] == [person.pk], show
    everybody = [line.facts.pk for line in queries.people_of(shop, TODAY)]
    assert people[Show.GONE].pk not in everybody


def test_nobody_of_another_shop_is_on_the_list(shop: Shop, other_shop: Shop):
    make_person(other_shop)
    assert queries.people_of(shop, TODAY) == []


def test_the_matrix_takes_as_many_queries_for_many_people(
    shop: Shop, django_assert_num_queries: Any
):
    for _ in range(2):
        crowd(shop, 4)
        with django_assert_num_queries(9):
            queries.matrix_of(shop, TODAY)


@pytest.mark.parametrize(
    ("days", "mark"),
    [(-1, Mark.LAPSED), (0, Mark.LAPSING), (20, Mark.LAPSING), (21, Mark.CURRENT)],
)
def test_the_matrix_marks_what_has_lapsed_and_what_lapses_within_three_weeks(
    shop: Shop, drill: Station, days: int, mark: Mark
):
    make_sign_off(ready(shop), drill, valid_until=TODAY + timedelta(days=days))
    assert queries.matrix_of(shop, TODAY).rows[0].cells[0].mark is mark


def test_the_matrix_shows_a_bar_before_the_level(shop: Shop, drill: Station):
    person = ready(shop)
    make_sign_off(person, drill)
    make_bar(person)
    cell = queries.matrix_of(shop, TODAY).rows[0].cells[0]
    assert (cell.mark, cell.word, cell.level) == (Mark.BARRED, "barred", Level.ALONE)


def test_the_matrix_counts_who_may_sign_others(shop: Shop, drill: Station):
    make_sign_off(ready(shop), drill, Level.MAY_SIGN)
    make_sign_off(ready(shop), drill, Level.MAY_LEAD)
    assert [head.signers for head in queries.matrix_of(shop, TODAY).heads] == [1]


def test_the_matrix_shows_only_those_who_come(shop: Shop):
    coming, staying = ready(shop), ready(shop)
    make_sign_up(make_night(shop), coming)
    chosen = queries.coming_next(shop, TODAY)
    rows = queries.matrix_of(shop, TODAY, show=Show.COMING, coming=chosen).rows
    assert [row.facts.pk for row in rows] == [coming.pk]
    assert staying.pk not in chosen


def test_somebody_who_said_no_is_not_coming(shop: Shop):
    make_sign_up(make_night(shop), ready(shop), answer="no")
    assert queries.coming_next(shop, TODAY) == []


def test_the_matrix_of_an_empty_shop_has_no_rows(shop: Shop):
    matrix = queries.matrix_of(shop, TODAY)
    assert (matrix.rows, matrix.heads) == ([], [])


def test_a_person_page_takes_as_many_queries_for_a_long_history(
    shop: Shop, drill: Station, django_assert_num_queries: Any
):
    person = ready(shop)
    for month in (1, 2):
        crowd(shop, 2)
        make_sign_off(person, drill, signed_on=date(2025, month, 1))
        make_bar(person)
        with django_assert_num_queries(16):
            page = queries.person_page(person, TODAY)
    assert len(page.history) == 2


def test_a_person_page_adds_up_the_hours(shop: Shop):
    person, night = ready(shop), make_night(shop)
    came = datetime(2026, 1, 14, 18, 5, tzinfo=timezone.get_fixed_timezone(-360))
    RollLine.objects.create(
        night=night, person=person, in_at=came, out_at=came + timedelta(minutes=130)
    )
    RollLine.objects.create(night=night, person=person, in_at=came + timedelta(minutes=140))
    page = queries.person_page(person, TODAY)
    assert (page.stays, page.minutes) == ([(TODAY, 130)], 130)


def test_cover_names_first_who_can_at_once_then_who_lacks_one_step(shop: Shop, drill: Station):
    able, lapsed, learner, door = (
        ready(shop, first_name="Able"), ready(shop, first_name="Bo"),
        ready(shop, first_name="Cleo"), make_person(shop, first_name="Dag"),
    )  # fmt: skip
    make_sign_off(able, drill)
    make_sign_off(lapsed, drill, valid_until=TODAY - timedelta(days=9))
    make_sign_off(learner, drill, Level.WITH_A_LEAD)
    make_sign_off(door, drill)
    ready(shop, first_name="Eve")
    covers = queries.who_could_cover(register_on(shop, TODAY), drill.pk)
    assert [(cover.person, cover.is_ready) for cover in covers] == [
        (able.pk, True), (lapsed.pk, False), (learner.pk, False), (door.pk, False),
    ]  # fmt: skip
    assert "signed again" in covers[1].how
    assert covers[3].how == "signs the waiver"


def test_nobody_is_named_as_cover_whom_a_bar_or_an_age_keeps_away(shop: Shop, drill: Station):
    barred, young = ready(shop), make_minor(shop)
    Station.objects.filter(pk=drill.pk).update(age_min=18)
    for person in (barred, young):
        make_sign_off(person, drill)
    make_bar(barred)
    assert queries.who_could_cover(register_on(shop, TODAY), drill.pk) == []


def test_what_lapses_soon_is_listed_with_the_first_to_end_first(shop: Shop, drill: Station):
    later, sooner = ready(shop), ready(shop)
    make_sign_off(later, drill, valid_until=TODAY + timedelta(days=9))
    make_sign_off(sooner, drill, valid_until=TODAY + timedelta(days=2))
    make_sign_off(ready(shop), drill)
    lapses = queries.lapsing_soon(register_on(shop, TODAY))
    assert [lapse.person for lapse in lapses] == [sooner.pk, later.pk]


def test_authorisers_are_those_who_may_sign_there_today(shop: Shop, drill: Station):
    signer, barred = ready(shop), ready(shop)
    for person in (signer, barred):
        make_sign_off(person, drill, Level.MAY_SIGN)
    make_bar(barred)
    assert queries.authorisers_of(shop, TODAY, drill) == [signer]


def test_namesakes_are_found_whatever_the_capitals(shop: Shop):
    jo = make_person(shop, first_name="Jo", last_name="Berg")
    assert list(queries.namesakes(shop, " JO", "berg ")) == [jo]
