"""What the database itself refuses, and the small words of a person."""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from django.db import IntegrityError

from inventory.places.models import Shop
from tests.factories import make_bar, make_minor, make_person, make_sign_off, make_station
from workshops.people.models import Guardianship, Person, SignOff, Waiver, years_between
from workshops.stations.models import Level

DAY = date(2026, 1, 14)


@pytest.mark.parametrize(
    "fields",
    [
        {"valid_until": date(2025, 1, 1), "evidence": "seen"},
        {"evidence": ""},
    ],
)
def test_the_register_holds_no_line_that_ends_early_or_says_nothing(
    shop: Shop, fields: dict[str, Any]
):
    person, station = make_person(shop), make_station(shop)
    with pytest.raises(IntegrityError):
        SignOff.objects.create(
            shop=shop, person=person, station=station, level=Level.ALONE, signed_on=DAY, **fields
        )


def test_nobody_signs_for_himself_by_any_path(shop: Shop):
    person = make_person(shop)
    with pytest.raises(IntegrityError):
        make_sign_off(person, make_station(shop), signed_by=person)


def test_a_bar_has_a_reason_and_is_lifted_by_somebody(shop: Shop):
    with pytest.raises(IntegrityError):
        make_bar(make_person(shop), reason="")


def test_a_bar_is_not_lifted_by_nobody(shop: Shop):
    with pytest.raises(IntegrityError):
        make_bar(make_person(shop), lifted_at=datetime(2026, 1, 1, tzinfo=UTC))


def test_a_guardian_is_somebody_else_and_named_once(shop: Shop):
    minor = make_minor(shop)
    with pytest.raises(IntegrityError):
        Guardianship.objects.create(shop=shop, minor=minor, guardian=minor)


def test_a_waiver_ends_after_it_is_signed(shop: Shop):
    with pytest.raises(IntegrityError):
        Waiver.objects.create(
            shop=shop, person=make_person(shop), version="1", signed_on=DAY,
            valid_until=date(2026, 1, 13),
        )  # fmt: skip


@pytest.mark.parametrize(
    ("born", "day", "years"),
    [
        (date(2008, 1, 14), DAY, 18),
        (date(2008, 1, 15), DAY, 17),
        (date(2008, 2, 29), date(2026, 2, 28), 17),
        (date(2008, 2, 29), date(2026, 3, 1), 18),
    ],
)
def test_an_age_turns_on_the_birthday(born: date, day: date, years: int):
    assert years_between(born, day) == years


def test_a_persons_names_are_short_on_shop_pages(shop: Shop):
    assert make_person(shop, first_name="Ada", last_name="Lind").short_name == "Ada L."
    assert make_person(shop, first_name="Ada", last_name="").short_name == "Ada"
    assert str(make_person(shop, first_name="Ada", last_name="")) == "Ada"


def test_the_list_is_of_those_who_did_not_leave(shop: Shop):
    here, _ = make_person(shop), make_person(shop, is_active=False)
    assert list(Person.objects.active()) == [here]


def test_a_bar_set_late_in_the_evening_holds_that_evening(shop: Shop):
    zone = ZoneInfo("America/Chicago")
    bar = make_bar(make_person(shop), set_at=datetime(2026, 1, 14, 22, 30, tzinfo=zone))
    assert bar.holds_on(DAY, zone)
    assert not bar.holds_on(date(2026, 1, 13), zone)
