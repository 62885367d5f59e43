"""What counts on a day: lives, uses, second looks, and the same as it was known then."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
from django.db import IntegrityError, connection, transaction

from inventory.places.models import Shop
from tests.factories import (
    TODAY,
    make_bar,
    make_person,
    make_sign_off,
    make_station,
    make_waiver,
    take_back,
)
from workshops.club.actions import set_rule
from workshops.people import actions, seal
from workshops.people.actions import Used
from workshops.people.gate import may, register_on
from workshops.people.history import end_of, register_then, signed_by
from workshops.people.models import Bar, Person, Review, SignOff
from workshops.people.refusals import CannotSign, DayRefused, PeopleRefused, ReviewRefused
from workshops.stations.models import Level, Station

pytestmark = pytest.mark.usefixtures("clock")
YESTERDAY, TOMORROW = TODAY - timedelta(days=1), TODAY + timedelta(days=1)


@pytest.fixture
def drill(shop: Shop) -> Station:
    return make_station(shop, name="Drill", level_needed=Level.ALONE)


@pytest.fixture
def ada(shop: Shop) -> Person:
    person = make_person(shop, first_name="Ada", last_name="Lind")
    make_waiver(person)
    return person


@pytest.fixture
def berta(shop: Shop, drill: Station) -> Person:
    """The authoriser of the drill."""
    person = make_person(shop, first_name="Berta")
    make_sign_off(person, drill, Level.MAY_SIGN)
    return person


def decide(station: Station, **values: Any) -> None:
    actions.set_lifetime(
        station=station, decided_by="the board", decided_on=date(2025, 9, 1), source="meeting",
        by=None, **values,
    )  # fmt: skip


def sign(person: Person, station: Station, signer: Person, **fields: Any) -> SignOff:
    usual = {"level": Level.ALONE, "on": TODAY, "evidence": "two holes", "by": None}
    return actions.sign_off(person=person, station=station, signed_by=signer, **(usual | fields))


def review(row: SignOff, verdict: str, **fields: Any) -> Review:
    usual = {"reason": "looked again", "by": None, "reviewer": make_person(row.shop)}
    return actions.review(sign_off=row, verdict=verdict, **(usual | fields))


@pytest.mark.parametrize(("decided", "until"), [
    ({"months": 6}, date(2026, 7, 13)),
    ({"ends_on": "10-31"}, date(2026, 10, 31)),
    ({"months": 6, "ends_on": "05-31"}, date(2026, 5, 31)),
    ({"ends_on": "02-28"}, date(2027, 2, 28)),  # signed within 60 days of it: the next one
    ({"unused_months": 6}, None),
    ({}, date(2027, 1, 13)),  # back to the club's twelve months
])  # fmt: skip
def test_a_sign_off_lives_as_the_club_decided_for_its_station(
    ada: Person, drill: Station, berta: Person, decided: dict[str, Any], until: date | None
):
    decide(drill, months=1)
    decide(drill, **decided)
    assert sign(ada, drill, berta).valid_until == until


def test_nobody_signs_for_longer_than_the_station_allows(
    ada: Person, drill: Station, berta: Person
):
    decide(drill, months=6)
    with pytest.raises(DayRefused, match="14 Jan 2026 to 13 Jul 2026"):
        sign(ada, drill, berta, valid_until=date(2026, 7, 14))


def test_a_general_lapse_without_use_holds_from_the_day_it_was_decided(
    shop: Shop, ada: Person, drill: Station
):
    make_sign_off(ada, drill, signed_on=date(2025, 1, 1), valid_until=None)
    set_rule(shop=shop, key="lapse_unused_months", value=6, decided_by="b", source="m", by=None,
             decided_on=date(2026, 1, 10))  # fmt: skip
    make_waiver(ada, signed_on=date(2025, 1, 1), valid_until=TOMORROW)
    assert may(ada, drill, date(2026, 1, 9)).ok
    assert not may(ada, drill, date(2026, 1, 10)).ok


def test_using_it_renews_it_and_not_on_days_before(ada: Person, drill: Station, shop: Shop):
    make_sign_off(ada, drill, signed_on=date(2025, 6, 1), valid_until=None)
    decide(drill, unused_months=6)
    assert not may(ada, drill, TODAY).ok
    actions.record_uses(shop=shop, day=date(2026, 1, 5), uses=[Used(ada.pk, drill.pk, 40)])
    assert may(ada, drill, TODAY).valid_until == date(2026, 7, 4)
    assert not may(ada, drill, date(2026, 1, 4)).ok


def test_one_withdrawn_counts_no_more_and_brings_no_earlier_one_back(
    ada: Person, drill: Station, berta: Person
):
    make_sign_off(ada, drill, signed_on=date(2025, 11, 1))
    review(sign(ada, drill, berta, on=YESTERDAY), "withdrawn")
    answer = may(ada, drill, TODAY)
    assert "was withdrawn: its last day was 13 Jan 2026" in answer.reasons[0].text
    assert may(ada, drill, YESTERDAY).ok


def test_a_mistake_never_counted_and_the_earlier_one_does(
    ada: Person, drill: Station, berta: Person
):
    make_sign_off(ada, drill, signed_on=date(2025, 11, 1))
    lower = sign(ada, drill, berta, on=YESTERDAY, level=Level.SHOWN_HOW)
    assert not may(ada, drill, TODAY).ok
    review(lower, "mistake")
    assert may(ada, drill, TODAY).ok


def test_nobody_looks_again_at_their_own_or_twice_at_what_was_ended(
    ada: Person, drill: Station, berta: Person
):
    row = sign(ada, drill, berta)
    with pytest.raises(ReviewRefused, match="their own"):
        review(row, "mistake", reviewer=ada)
    review(row, "withdrawn")
    with pytest.raises(ReviewRefused, match="ended before"):
        review(row, "mistake")


def test_only_another_current_authoriser_confirms_that_it_stands(
    ada: Person, drill: Station, berta: Person, shop: Shop
):
    row, other = sign(ada, drill, berta), make_person(shop)
    for nobody in (berta, other):
        with pytest.raises(CannotSign):
            review(row, "stands", reviewer=nobody)
    make_sign_off(other, drill, Level.MAY_SIGN)
    assert review(row, "stands", reviewer=other).reviewed_by == str(other)


def test_what_a_barred_authoriser_signed_stays_and_he_signs_no_more(
    ada: Person, drill: Station, berta: Person, shop: Shop
):
    sign(ada, drill, berta)
    actions.set_bar(person=berta, reason="no guard", set_by="C", by=None)
    assert may(ada, drill, TODAY).ok
    with pytest.raises(CannotSign):
        sign(make_person(shop), drill, berta)
    assert [line.counts for line in signed_by(berta, TODAY)] == [True]


def test_a_suspension_to_see_a_lead_leaves_learning_and_nothing_more(
    ada: Person, drill: Station, berta: Person
):
    actions.set_bar(person=berta, station=drill, reason="hasty", only_with_a_lead=True,
                    until=TOMORROW, set_by="C", by=None)  # fmt: skip
    make_waiver(berta)
    assert may(berta, drill, TODAY, doing="learns").ok
    for doing in ("works", "leads", "signs"):
        assert may(berta, drill, TODAY, doing=doing).stopped_by("with_a_lead")
    assert may(berta, drill, TOMORROW + timedelta(days=1)).ok


def test_a_suspension_with_an_end_is_over_by_itself_and_can_be_set_again(
    ada: Person, drill: Station
):
    make_sign_off(ada, drill)
    make_bar(ada, drill, until=YESTERDAY)
    assert may(ada, drill, TODAY).ok
    assert not may(ada, drill, YESTERDAY).ok
    actions.set_bar(person=ada, station=drill, reason="again", set_by="C", by=None)
    assert not may(ada, drill, TODAY).ok


def test_a_lead_is_seen_only_where_there_are_leads(ada: Person, shop: Shop):
    tag = make_station(shop, level_needed=Level.SHOWN_HOW)
    for station in (None, tag):
        with pytest.raises(PeopleRefused):
            actions.set_bar(person=ada, station=station, reason="x", only_with_a_lead=True,
                            set_by="C", by=None)  # fmt: skip


def test_the_register_tells_what_was_known_then_apart_from_what_is_known_now(
    ada: Person, drill: Station, shop: Shop
):
    evening = datetime(2025, 12, 1, 20, tzinfo=UTC)
    early = make_sign_off(ada, drill, signed_on=date(2025, 11, 1), recorded_at=evening)
    late = make_sign_off(ada, drill, Level.MAY_LEAD, signed_on=date(2025, 12, 2))
    day = date(2025, 12, 10)
    assert register_on(shop, day).people[ada.pk].signed[drill.pk].row == late.pk
    known = register_on(shop, day, known=end_of(day, shop))
    assert known.people[ada.pk].signed[drill.pk].row == early.pk
    [line] = register_then(shop, day, station=drill.pk).lines
    assert line.notes == ("written down later, on 14 Jan 2026",)


def test_a_bar_lifted_since_still_stood_then(ada: Person, drill: Station, shop: Shop):
    actions.lift_bar(bar=make_bar(ada, drill), lifted_by="C", by=None)
    then = register_then(shop, date(2025, 12, 10), known=end_of(date(2025, 12, 10), shop))
    assert then.bars == [("Ada Lind", "barred from Drill")]
    assert register_then(shop, TODAY).bars == []


def test_a_mistake_found_later_counted_for_those_who_asked_then(
    ada: Person, drill: Station, shop: Shop
):
    evening = datetime(2025, 12, 1, 20, tzinfo=UTC)
    row = make_sign_off(ada, drill, recorded_at=evening)
    take_back(row)
    day = date(2025, 12, 10)
    assert register_on(shop, day).people[ada.pk].signed == {}
    assert register_on(shop, day, known=end_of(day, shop)).people[ada.pk].signed[drill.pk]


@pytest.mark.parametrize("size", [1, 4])
def test_a_past_day_takes_ten_queries_however_much_is_in_the_register(
    shop: Shop, drill: Station, size: int, django_assert_num_queries: Any
):
    for number in range(size):
        person = make_person(shop)
        make_bar(person)
        for winter in range(3):
            make_sign_off(person, drill, signed_on=date(2023 + winter, 11, 5 + number))
    decide(drill, unused_months=60)
    with django_assert_num_queries(10):
        register_then(shop, date(2025, 12, 1), known=end_of(date(2025, 12, 1), shop))


@pytest.mark.parametrize("change", [
    lambda: SignOff.objects.update(level=5),
    lambda: SignOff.objects.all()._raw_delete("default"),  # past the protection of Django
    lambda: Bar.objects.update(reason="none"),
    lambda: Bar.objects.update(lifted_at=None, lifted_by=""),
    lambda: Review.objects.all().delete(),
])  # fmt: skip
def test_the_database_refuses_to_rewrite_the_register(ada: Person, drill: Station, change: Any):
    take_back(make_sign_off(ada, drill))
    actions.lift_bar(bar=make_bar(ada), lifted_by="C", by=None)
    with pytest.raises(IntegrityError, match="append-only"), transaction.atomic():
        change()


def test_the_seal_stands_after_every_migration(db: None):
    assert seal.is_closed(connection)
