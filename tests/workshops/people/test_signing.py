"""The ways into the register: who may sign, what is kept, what is refused."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from inventory.places.models import Shop
from tests.factories import TODAY, make_bar, make_person, make_sign_off, make_station
from workshops.access.models import User
from workshops.club.actions import set_rule
from workshops.people import actions
from workshops.people.gate import may
from workshops.people.models import Person, SignOff
from workshops.people.refusals import (
    AlreadyBarred,
    CannotSign,
    DayRefused,
    LevelRefused,
    LiftsOwnBar,
    NotBarred,
    NotOfThisShop,
    PeopleRefused,
    SignsForHimself,
)
from workshops.stations.models import Level, Station

pytestmark = pytest.mark.usefixtures("clock")
YESTERDAY, TOMORROW = TODAY - timedelta(days=1), TODAY + timedelta(days=1)


@pytest.fixture
def weld(shop: Shop) -> Station:
    """A station for people signed off to work alone."""
    return make_station(shop, name="Weld", level_needed=Level.ALONE)


@pytest.fixture
def berta(shop: Shop, weld: Station) -> Person:
    """An authoriser of welding."""
    person = make_person(shop, first_name="Berta", last_name="Signer")
    make_sign_off(person, weld, Level.MAY_SIGN)
    return person


def sign(person: Person, station: Station, signer: Person, **fields: Any) -> SignOff:
    """A sign-off to work alone, today, unless said otherwise."""
    usual = {"level": Level.ALONE, "on": TODAY, "evidence": "three beads, one broken open"}
    return actions.sign_off(
        person=person, station=station, signed_by=signer, by=None, **(usual | fields)
    )


def test_a_sign_off_counts_for_the_clubs_months(shop: Shop, weld: Station, berta: Person):
    row = sign(make_person(shop), weld, berta)
    assert (row.valid_until, row.signed_by) == (date(2027, 1, 13), berta)


def test_the_clubs_own_months_are_used(shop: Shop, weld: Station, berta: Person):
    set_rule(
        shop=shop, key="sign_off_months", value=6, decided_by="board",
        decided_on=TODAY, source="meeting", by=None,
    )  # fmt: skip
    assert sign(make_person(shop), weld, berta).valid_until == date(2026, 7, 13)


def test_a_sign_off_may_end_sooner_and_never_later(shop: Shop, weld: Station, berta: Person):
    person = make_person(shop)
    assert sign(person, weld, berta, valid_until=TOMORROW).valid_until == TOMORROW
    for day in (YESTERDAY, date(2027, 1, 14)):
        with pytest.raises(DayRefused, match="Valid until"):
            sign(person, weld, berta, valid_until=day)


def test_nobody_signs_for_himself(weld: Station, berta: Person):
    with pytest.raises(SignsForHimself):
        sign(berta, weld, berta)


@pytest.mark.parametrize("level", [each for each in Level if each < Level.MAY_SIGN])
def test_only_an_authoriser_signs(shop: Shop, weld: Station, level: Level):
    lead = make_person(shop)
    make_sign_off(lead, weld, level)
    with pytest.raises(CannotSign):
        sign(make_person(shop), weld, lead)
    assert SignOff.objects.count() == 1


def test_an_authoriser_of_another_station_does_not_sign_here(shop: Shop, berta: Person):
    with pytest.raises(CannotSign, match="no sign-off for Drill"):
        sign(make_person(shop), make_station(shop, name="Drill"), berta)


def test_an_authoriser_who_lapsed_cannot_sign(shop: Shop, weld: Station):
    lapsed = make_person(shop)
    make_sign_off(lapsed, weld, Level.MAY_SIGN, valid_until=YESTERDAY)
    with pytest.raises(CannotSign, match="lapsed"):
        sign(make_person(shop), weld, lapsed)


def test_a_lapsed_authoriser_cannot_sign_with_a_day_on_which_he_still_could(
    shop: Shop, weld: Station
):
    lapsed = make_person(shop)
    make_sign_off(lapsed, weld, Level.MAY_SIGN, valid_until=YESTERDAY)
    with pytest.raises(CannotSign):
        sign(make_person(shop), weld, lapsed, on=YESTERDAY)


def test_an_authoriser_cannot_sign_with_a_day_before_becoming_one(shop: Shop, weld: Station):
    fresh = make_person(shop)
    make_sign_off(fresh, weld, Level.MAY_SIGN, signed_on=TODAY)
    with pytest.raises(CannotSign):
        sign(make_person(shop), weld, fresh, on=YESTERDAY)


def test_a_barred_authoriser_cannot_sign(shop: Shop, weld: Station, berta: Person):
    make_bar(berta, weld)
    with pytest.raises(CannotSign, match="barred"):
        sign(make_person(shop), weld, berta)


def test_what_a_lapsed_authoriser_signed_stays(shop: Shop, weld: Station, berta: Person):
    pupil = make_person(shop)
    sign(pupil, weld, berta)
    make_bar(berta)
    assert may(pupil, weld, TODAY).ok_but_for({"waiver"})


def test_a_club_that_names_its_authorisers_lets_nobody_else_make_one(
    shop: Shop, weld: Station, berta: Person
):
    set_rule(
        shop=shop, key="signers_named_by", value="club", decided_by="board",
        decided_on=TODAY, source="meeting", by=None,
    )  # fmt: skip
    with pytest.raises(LevelRefused):
        sign(make_person(shop), weld, berta, level=Level.MAY_SIGN)
    sign(make_person(shop), weld, berta, level=Level.MAY_LEAD)


@pytest.mark.parametrize(
    ("fields", "error"),
    [
        ({"on": TOMORROW}, PeopleRefused),
        ({"level": 6}, LevelRefused),
        ({"level": 0}, LevelRefused),
        ({"evidence": "  "}, PeopleRefused),
    ],
)
def test_a_sign_off_that_cannot_be_is_refused(
    shop: Shop, weld: Station, berta: Person, fields: dict[str, Any], error: type[Exception]
):
    with pytest.raises(error):
        sign(make_person(shop), weld, berta, **fields)
    assert SignOff.objects.count() == 1


def test_a_sign_off_older_than_the_latest_is_refused(shop: Shop, weld: Station, berta: Person):
    pupil = make_person(shop)
    sign(pupil, weld, berta)
    with pytest.raises(DayRefused, match="14 Jan 2026"):
        sign(pupil, weld, berta, on=YESTERDAY, level=Level.MAY_LEAD)


def test_nobody_of_another_shop_is_signed_off(other_shop: Shop, weld: Station, berta: Person):
    with pytest.raises(NotOfThisShop):
        sign(make_person(other_shop), weld, berta)


def test_the_first_authoriser_comes_in_from_the_clubs_register(
    shop: Shop, weld: Station, coordinator: User
):
    first = make_person(shop)
    row = actions.enter_sign_off(
        person=first, station=weld, level=Level.MAY_SIGN, on=TODAY,
        evidence="register of 2025, page 4", by=coordinator,
    )  # fmt: skip
    assert (row.signed_by, row.recorded_by) == (None, coordinator)
    assert may(first, weld, TODAY, doing="signs").ok


def test_a_paper_sign_off_says_where_it_stands(shop: Shop, weld: Station):
    with pytest.raises(PeopleRefused):
        actions.enter_sign_off(
            person=make_person(shop), station=weld, level=Level.ALONE, on=TODAY,
            evidence="", by=None,
        )  # fmt: skip


def test_a_bar_holds_at_once_and_names_who_set_it(
    shop: Shop, weld: Station, berta: Person, coordinator: User
):
    bar = actions.set_bar(person=berta, station=weld, reason="no glasses.", by=coordinator)
    assert (bar.set_by, bar.reason) == ("Carla", "no glasses")
    assert may(berta, weld, TODAY).stopped_by("barred")


def test_a_bar_needs_a_reason_a_name_and_a_station_of_the_shop(shop: Shop, other_shop: Shop):
    person = make_person(shop)
    with pytest.raises(PeopleRefused, match="Reason"):
        actions.set_bar(person=person, reason=" ", set_by="Carla", by=None)
    with pytest.raises(PeopleRefused, match="Set by"):
        actions.set_bar(person=person, reason="why", by=None)
    with pytest.raises(NotOfThisShop):
        actions.set_bar(
            person=person, station=make_station(other_shop), reason="why", set_by="Carla", by=None
        )


def test_the_same_bar_is_not_set_twice(shop: Shop, coordinator: User):
    person = make_person(shop)
    actions.set_bar(person=person, reason="why", by=coordinator)
    with pytest.raises(AlreadyBarred):
        actions.set_bar(person=person, reason="again", by=coordinator)


def test_a_lifted_bar_stays_in_the_register(shop: Shop, coordinator: User):
    bar = actions.set_bar(person=make_person(shop), reason="why", by=coordinator)
    lifted = actions.lift_bar(bar=bar, by=coordinator)
    assert (lifted.reason, lifted.lifted_by) == ("why", "Carla")
    with pytest.raises(NotBarred):
        actions.lift_bar(bar=bar, by=coordinator)


def test_nobody_lifts_a_bar_that_stops_himself(shop: Shop, coordinator: User):
    bar = actions.set_bar(person=make_person(shop, user=coordinator), reason="why", by=coordinator)
    with pytest.raises(LiftsOwnBar):
        actions.lift_bar(bar=bar, by=coordinator)
