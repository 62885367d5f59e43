"""Hours with a lead, and who is nearly ready."""

from __future__ import annotations

from datetime import timedelta

import pytest

from inventory.places.models import Shop
from tests.factories import TODAY, make_bar, make_person, make_sign_off, make_station, make_waiver
from workshops.people.gate import register_on
from workshops.people.matrix import Show, matrix_of
from workshops.people.models import Person, Use
from workshops.people.practice import Practice, Readiness, practice_of, readiness
from workshops.stations.models import Level, Station


@pytest.fixture
def drill(shop: Shop) -> Station:
    """A station for people signed off to work alone."""
    return make_station(shop, name="Drill", level_needed=Level.ALONE)


@pytest.fixture
def eli(shop: Shop, drill: Station) -> Person:
    """Learns to drill beside a lead."""
    person = make_person(shop, first_name="Eli", last_name="Reed")
    make_waiver(person)
    make_sign_off(person, drill, Level.WITH_A_LEAD)
    return person


def spend(person: Person, station: Station, *minutes: int, with_a_lead: bool = True) -> None:
    """One night a week, the latest a week ago."""
    for number, spent in enumerate(minutes, 1):
        Use.objects.create(
            shop=person.shop, person=person, station=station, minutes=spent,
            day=TODAY - timedelta(weeks=number), with_a_lead=with_a_lead,
        )  # fmt: skip


def ready_of(person: Person, station: Station) -> Readiness | None:
    shop = person.shop
    register = register_on(shop, TODAY)
    return readiness(register, register.people[person.pk], station.pk, practice_of(shop, TODAY))


def test_only_time_beside_a_lead_counts(eli: Person, drill: Station):
    spend(eli, drill, 90, 100)
    spend(eli, drill, 60, with_a_lead=False)
    spend(eli, make_station(eli.shop), 60)
    assert practice_of(eli.shop, TODAY)[eli.pk, drill.pk] == Practice(2, 190)


def test_what_was_done_later_does_not_count_on_an_earlier_day(eli: Person, drill: Station):
    spend(eli, drill, 90)
    assert practice_of(eli.shop, TODAY - timedelta(days=8)) == {}


@pytest.mark.parametrize(
    ("minutes", "left", "word"),
    [
        ((), 3, ""),
        ((120,), 2, ""),
        ((120, 120), 1, "1 night left"),
        ((120, 120, 30), 0, "can be signed"),
        # Three nights, and two hours still missing at an hour and a bit a night.
        ((60, 30, 30), 3, ""),
        ((90, 60, 60), 1, "1 night left"),
    ],
)
def test_nights_left_are_counted_at_the_pace_of_the_nights_so_far(
    eli: Person, drill: Station, minutes: tuple[int, ...], left: int, word: str
):
    """The usual rules ask 3 nights and 4 hours."""
    spend(eli, drill, *minutes)
    found = ready_of(eli, drill)
    assert found is not None
    assert (found.nights_left, found.word) == (left, word)


def test_what_is_done_is_told_beside_what_the_club_asks(eli: Person, drill: Station):
    spend(eli, drill, 90, 110)
    found = ready_of(eli, drill)
    assert found is not None
    assert found.told() == "2 of 3 nights and 3:20 of 4 hours beside a lead"


def test_a_club_that_asks_for_nothing_has_nobody_nearly_ready():
    found = Readiness(Practice(9, 900), None, None)
    assert not found.is_near
    assert found.told() == "9 nights, 15:00 hours beside a lead"


def test_who_works_alone_already_or_is_barred_does_not_learn(eli: Person, drill: Station):
    make_bar(eli, drill)
    assert ready_of(eli, drill) is None
    other = make_person(eli.shop)
    make_sign_off(other, drill, Level.ALONE)
    assert ready_of(other, drill) is None


def test_sent_back_beside_a_lead_is_no_matter_of_hours(eli: Person, drill: Station):
    other = make_person(eli.shop)
    make_sign_off(other, drill, Level.ALONE)
    make_bar(other, drill, only_with_a_lead=True)
    spend(other, drill, 120, 120, 120)
    assert ready_of(other, drill) is None


def test_the_matrix_marks_and_finds_who_is_nearly_ready(eli: Person, drill: Station):
    spend(eli, drill, 120, 120)
    make_sign_off(make_person(eli.shop), drill)
    (row,) = matrix_of(eli.shop, TODAY, show=Show.NEARLY).rows
    assert row.facts.pk == eli.pk
    assert '<td class="l2 near" data-at="Drill">with lead<small>1 night left</small>' in row.html


def test_the_matrix_says_which_work_hangs_on_one_person(eli: Person, drill: Station):
    matrix = matrix_of(eli.shop, TODAY)
    assert [(head.hands, head.is_alone) for head in matrix.heads] == [(0, True)]
    for number, is_alone in ((1, True), (2, False)):
        make_sign_off(make_person(eli.shop), drill)
        (head,) = matrix_of(eli.shop, TODAY).heads
        assert (head.hands, head.is_alone) == (number, is_alone)


def test_a_name_with_marks_of_html_is_shown_as_it_is(eli: Person, drill: Station):
    drill.name = 'Drill "A" <b>'
    drill.save()
    (row,) = matrix_of(eli.shop, TODAY).rows
    assert 'data-at="Drill &quot;A&quot; &lt;b&gt;"' in row.html
