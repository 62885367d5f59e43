"""The gate: each reason alone, at its edge, on days past and to come."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest
from django.test.utils import CaptureQueriesContext

from inventory.places.models import Shop
from tests.factories import (
    TODAY,
    make_bar,
    make_minor,
    make_person,
    make_sign_off,
    make_station,
    make_waiver,
)
from workshops.club.actions import set_rule
from workshops.people.gate import TITLES, Doing, may, register_on
from workshops.people.grounds import GROUNDS
from workshops.people.models import Person
from workshops.stations.models import Level, Station

YESTERDAY, TOMORROW = TODAY - timedelta(days=1), TODAY + timedelta(days=1)


@pytest.fixture
def ada(shop: Shop) -> Person:
    """A grown-up with a waiver and no sign-off."""
    person = make_person(shop, first_name="Ada", last_name="Lind")
    make_waiver(person)
    return person


@pytest.fixture
def drill(shop: Shop) -> Station:
    """A station for people signed off to work alone."""
    return make_station(shop, name="Drill", level_needed=Level.ALONE)


def rules_that_stop(person: Person, station: Station, on: date = TODAY, **doing: str) -> list[str]:
    """The names of the rules that stop it, asked both ways, which must agree."""
    answer = may(person, station, on, **doing)
    bulk = register_on(person.shop, on).answer(person.pk, station.pk, **doing)
    assert answer == bulk
    assert answer.ok is (not answer.reasons)
    return [reason.rule for reason in answer.reasons]


def decide(shop: Shop, key: str, value: bool | int) -> None:
    """The club sets a rule."""
    set_rule(
        shop=shop, key=key, value=value, decided_by="the board", decided_on=date(2025, 9, 1),
        source="meeting", by=None,
    )  # fmt: skip


def test_a_person_with_a_current_sign_off_is_stopped_by_no_rule(ada: Person, drill: Station):
    make_sign_off(ada, drill)
    assert rules_that_stop(ada, drill) == []
    answer = may(ada, drill, TODAY)
    assert (answer.level, answer.valid_until) == (Level.ALONE, date(2026, 11, 4))


def test_nobody_works_without_a_sign_off_where_one_is_needed(ada: Person, drill: Station):
    assert rules_that_stop(ada, drill) == ["sign_off"]


def test_no_sign_off_is_needed_where_the_station_asks_for_none(ada: Person, shop: Shop):
    assert rules_that_stop(ada, make_station(shop)) == []


def test_a_sign_off_counts_on_its_last_day_and_not_on_the_next(ada: Person, drill: Station):
    make_sign_off(ada, drill, valid_until=TODAY)
    assert rules_that_stop(ada, drill) == []
    assert rules_that_stop(ada, drill, TOMORROW) == ["sign_off"]
    assert "lapsed" in may(ada, drill, TOMORROW).reasons[0].text


def test_a_sign_off_counts_from_the_day_it_was_signed(ada: Person, drill: Station):
    make_sign_off(ada, drill, signed_on=TODAY)
    assert rules_that_stop(ada, drill, YESTERDAY) == ["sign_off"]
    assert rules_that_stop(ada, drill, TODAY) == []


def test_a_sign_off_without_an_end_never_lapses(ada: Person, drill: Station):
    make_sign_off(ada, drill, valid_until=None)
    make_waiver(ada, valid_until=date(2050, 1, 1))
    assert rules_that_stop(ada, drill, date(2046, 1, 14)) == []


def test_a_later_sign_off_replaces_an_earlier_one_that_went_further(ada: Person, drill: Station):
    make_sign_off(ada, drill, Level.MAY_LEAD, signed_on=date(2025, 11, 1))
    make_sign_off(ada, drill, Level.WITH_A_LEAD, signed_on=date(2025, 12, 1))
    assert rules_that_stop(ada, drill) == ["sign_off"]
    assert rules_that_stop(ada, drill, date(2025, 11, 15)) == []


def test_the_last_recorded_of_two_sign_offs_on_one_day_counts(ada: Person, drill: Station):
    make_sign_off(ada, drill, Level.WITH_A_LEAD, signed_on=YESTERDAY)
    make_sign_off(ada, drill, Level.ALONE, signed_on=YESTERDAY)
    assert rules_that_stop(ada, drill) == []


@pytest.mark.parametrize(
    ("needed", "doing", "least"),
    [
        (Level.ALONE, Doing.WORKS, Level.ALONE),
        (Level.ALONE, Doing.WATCHES, Level.ALONE),
        (Level.ALONE, Doing.LEARNS, Level.WITH_A_LEAD),
        (Level.SHOWN_HOW, Doing.LEARNS, Level.SHOWN_HOW),
        (Level.ALONE, Doing.LEADS, Level.MAY_LEAD),
        (Level.ALONE, Doing.SIGNS, Level.MAY_SIGN),
        (Level.SHOWN_HOW, Doing.WORKS, Level.SHOWN_HOW),
        (Level.MAY_SIGN, Doing.LEADS, Level.MAY_SIGN),
    ],
)
def test_each_thing_to_do_takes_its_own_level(
    ada: Person, shop: Shop, needed: Level, doing: Doing, least: Level
):
    for level in Level:
        station = make_station(shop, level_needed=needed)
        make_sign_off(ada, station, level)
        assert may(ada, station, TODAY, doing=doing).ok is (level >= least)


def test_nobody_signs_for_a_station_without_being_an_authoriser_of_it(ada: Person, shop: Shop):
    station = make_station(shop, level_needed=None)
    assert rules_that_stop(ada, station, doing="signs") == ["sign_off"]


def test_a_bar_at_the_station_stops_a_signed_person(ada: Person, drill: Station):
    make_sign_off(ada, drill)
    make_bar(ada, drill)
    assert rules_that_stop(ada, drill) == ["barred"]


def test_a_bar_at_another_station_does_not(ada: Person, drill: Station, shop: Shop):
    make_sign_off(ada, drill)
    make_bar(ada, make_station(shop))
    assert rules_that_stop(ada, drill) == []


def test_a_bar_from_everywhere_stops_work_that_needs_no_sign_off(ada: Person, shop: Shop):
    make_bar(ada)
    assert rules_that_stop(ada, make_station(shop)) == ["barred"]


@pytest.mark.parametrize("doing", list(Doing))
def test_a_bar_stops_everything_a_person_may_do(ada: Person, drill: Station, doing: Doing):
    make_sign_off(ada, drill, Level.MAY_SIGN)
    make_bar(ada, drill)
    assert rules_that_stop(ada, drill, doing=doing) == ["barred"]


def test_a_bar_holds_from_its_day_until_the_day_it_is_lifted(ada: Person, drill: Station):
    make_sign_off(ada, drill)
    noon = datetime(2026, 1, 10, 18, 0, tzinfo=UTC)
    make_bar(ada, drill, set_at=noon, lifted_at=noon + timedelta(days=3), lifted_by="Arno")
    days = [date(2026, 1, day) for day in range(9, 15)]
    assert [may(ada, drill, day).ok for day in days] == [True, False, False, False, True, True]


def test_a_bar_is_dated_by_the_shops_own_clock(ada: Person, drill: Station):
    make_sign_off(ada, drill)
    # Two in the morning in Greenwich is the evening before on Central time.
    make_bar(ada, drill, set_at=datetime(2026, 1, 14, 2, 0, tzinfo=UTC))
    assert rules_that_stop(ada, drill, date(2026, 1, 13)) == ["barred"]


def test_a_prerequisite_must_be_current_too(ada: Person, drill: Station, shop: Shop):
    watch = make_station(shop, name="Fire watch", level_needed=Level.SHOWN_HOW)
    drill.prerequisites.add(watch)
    make_sign_off(ada, drill)
    assert rules_that_stop(ada, drill) == ["prerequisites"]
    make_sign_off(ada, watch, Level.SHOWN_HOW, valid_until=TODAY)
    assert rules_that_stop(ada, drill) == []
    assert rules_that_stop(ada, drill, TOMORROW) == ["prerequisites"]


def test_a_prerequisite_must_reach_the_level_that_its_station_asks(
    ada: Person, drill: Station, shop: Shop
):
    watch = make_station(shop, level_needed=Level.ALONE)
    drill.prerequisites.add(watch)
    make_sign_off(ada, drill)
    make_sign_off(ada, watch, Level.SHOWN_HOW)
    assert rules_that_stop(ada, drill) == ["prerequisites"]


def test_a_barred_prerequisite_counts_as_none(ada: Person, drill: Station, shop: Shop):
    watch = make_station(shop, level_needed=Level.SHOWN_HOW)
    drill.prerequisites.add(watch)
    make_sign_off(ada, drill)
    make_sign_off(ada, watch)
    make_bar(ada, watch)
    assert rules_that_stop(ada, drill) == ["prerequisites"]


def test_a_station_for_adults_stops_a_minor_until_the_birthday(shop: Shop):
    saw = make_station(shop, age_min=18)
    young = make_person(shop, born_on=date(2008, 1, 15))
    make_waiver(young)
    assert rules_that_stop(young, saw, date(2026, 1, 14)) == ["minimum_age"]
    assert rules_that_stop(young, saw, date(2026, 1, 15)) == []


def test_an_age_nobody_wrote_down_stops_where_there_is_a_minimum(shop: Shop):
    saw, table = make_station(shop, age_min=16), make_station(shop)
    person = make_person(shop, is_adult_declared=False)
    make_waiver(person)
    assert rules_that_stop(person, saw) == ["minimum_age"]
    assert rules_that_stop(person, table) == []


def test_a_declared_adult_passes_up_to_the_adult_age_and_no_further(ada: Person, shop: Shop):
    assert rules_that_stop(ada, make_station(shop, age_min=18)) == []
    assert rules_that_stop(ada, make_station(shop, age_min=21)) == ["minimum_age"]


def test_a_missing_waiver_is_a_reason_of_its_own(shop: Shop, drill: Station):
    person = make_person(shop)
    make_sign_off(person, drill)
    assert rules_that_stop(person, drill) == ["waiver"]
    assert may(person, drill, TODAY).ok_but_for({"waiver"})


@pytest.mark.parametrize(("on", "stopped"), [(YESTERDAY, True), (TODAY, False), (TOMORROW, True)])
def test_a_waiver_counts_on_its_first_and_last_day(
    shop: Shop, drill: Station, on: date, stopped: bool
):
    person = make_person(shop)
    make_sign_off(person, drill)
    make_waiver(person, signed_on=TODAY, valid_until=TODAY)
    assert (rules_that_stop(person, drill, on) == ["waiver"]) is stopped


def test_a_club_without_waivers_is_not_stopped_by_one(shop: Shop):
    decide(shop, "waiver_needed", False)
    assert rules_that_stop(make_person(shop), make_station(shop)) == []


def test_a_minors_consent_is_asked_for_once_the_club_decides_so(shop: Shop):
    station, minor = make_station(shop), make_minor(shop)
    make_waiver(minor)
    assert rules_that_stop(minor, station) == []
    decide(shop, "consent_needed", True)
    assert rules_that_stop(minor, station) == ["consent"]


def test_a_guardians_consent_counts_from_its_day(shop: Shop):
    decide(shop, "consent_needed", True)
    minor = make_minor(shop, make_person(shop))
    make_waiver(minor)
    assert rules_that_stop(minor, make_station(shop), date(2025, 10, 1)) == []
    minor.guardianships.update(consent_on=None)
    assert rules_that_stop(minor, make_station(shop), date(2025, 10, 1)) == ["consent"]


@pytest.mark.parametrize(
    ("limit", "work"),
    [
        ("no_dust", {"is_dusty": True, "can_sit": True}),
        ("no_dust", {"is_straw": True}),
        ("seated_only", {"can_sit": False}),
        ("no_heavy", {"is_heavy": True}),
    ],
)
def test_a_personal_limit_keeps_a_person_from_that_work_only(
    shop: Shop, limit: str, work: dict[str, bool]
):
    person = make_person(shop, **{limit: True})
    make_waiver(person)
    assert rules_that_stop(person, make_station(shop, **work)) == ["personal_limits"]
    assert rules_that_stop(person, make_station(shop, can_sit=True)) == []


def test_somebody_taken_off_the_list_is_stopped(ada: Person, drill: Station):
    make_sign_off(ada, drill)
    Person.objects.filter(pk=ada.pk).update(is_active=False)
    assert rules_that_stop(ada, drill) == ["on_the_list"]


def test_a_sign_off_counts_only_in_its_own_shop(ada: Person, other_shop: Shop):
    elsewhere = make_station(other_shop, level_needed=Level.ALONE)
    make_sign_off(ada, elsewhere)
    assert "same_shop" in [reason.rule for reason in may(ada, elsewhere, TODAY).reasons]


def test_every_reason_is_told_at_once(shop: Shop, drill: Station):
    person = make_person(shop, is_adult_declared=False, no_heavy=True)
    Station.objects.filter(pk=drill.pk).update(is_heavy=True, age_min=18)
    make_bar(person)
    stopped = ["barred", "sign_off", "minimum_age", "waiver", "personal_limits"]
    assert rules_that_stop(person, drill) == stopped


def test_every_rule_of_the_gate_has_a_title():
    assert list(TITLES) == [ground.__name__ for ground in GROUNDS]


def test_no_remedy_offers_to_break_a_rule(shop: Shop, drill: Station):
    person = make_person(shop, is_adult_declared=False, no_heavy=True, no_dust=True)
    Station.objects.filter(pk=drill.pk).update(is_heavy=True, is_dusty=True, age_min=18)
    make_bar(person)
    said = " ".join(reason.remedy.lower() for reason in may(person, drill, TODAY).reasons)
    offered = {"anyway", "ignore", "override", "skip", "lower the", "unless"}
    assert not {word for word in offered if word in said}


def test_the_register_takes_eight_queries_however_many_people_there_are(
    shop: Shop, django_assert_num_queries: CaptureQueriesContext
):
    for _ in range(2):
        for _ in range(5):
            person = make_person(shop)
            make_waiver(person)
            make_bar(person)
            make_sign_off(person, make_station(shop, level_needed=Level.ALONE))
        with django_assert_num_queries(8):
            register = register_on(shop, TODAY)
            for station in register.stations:
                register.who_may(station)


def test_the_register_of_an_empty_shop_is_empty(shop: Shop):
    register = register_on(shop, TODAY)
    assert (register.people, register.stations) == ({}, {})


def test_the_register_names_who_may(ada: Person, drill: Station, shop: Shop):
    make_waiver(make_person(shop))
    make_sign_off(ada, drill)
    assert register_on(shop, TODAY).who_may(drill.pk) == [ada.pk]
