"""The page of a person."""

from __future__ import annotations

import pytest

from inventory.places.models import Shop
from tests.factories import make_bar, make_minor, make_sign_off, make_station
from tests.workshops.people.views.conftest import ClientOf
from workshops.access.models import User
from workshops.people.models import Person
from workshops.stations.models import Level, Station


def page_of(person: Person) -> str:
    """The address of a person's page."""
    return f"/teal-point/people/{person.pk}/"


def test_it_says_why_not_and_what_would_make_it_so(
    ada: Person, berta: Person, duty_lead: User, client_of: ClientOf
):
    page = client_of(duty_lead).get(page_of(ada)).content.decode()
    assert "Ada L. has no sign-off for Drill." in page
    assert "Give them the waiver" in page
    assert "not today" in page


def test_it_never_says_more_than_that_no_rule_stops_it(
    berta: Person, duty_lead: User, client_of: ClientOf
):
    page = client_of(duty_lead).get(page_of(berta)).content.decode()
    assert "No rule stops this." in page
    assert " safe" not in page.lower()


def test_it_shows_who_signed_what_and_until_when(
    ada: Person, berta: Person, drill: Station, duty_lead: User, client_of: ClientOf
):
    make_sign_off(ada, drill, Level.WITH_A_LEAD, signed_by=berta, evidence="two clean holes")
    page = client_of(duty_lead).get(page_of(ada)).content.decode()
    assert "Berta Signer</a>, until 4 Nov 2026. two clean holes" in page


def test_contact_and_limits_are_for_those_who_need_them(
    ada: Person, berta: Person, duty_lead: User, authoriser: User, client_of: ClientOf
):
    open_page = client_of(authoriser).get(page_of(ada)).content.decode()
    private = client_of(duty_lead).post(f"{page_of(ada)}private/").content.decode()
    for words in ("555 0123", "Lou, 555 0199", "no dust"):
        assert words in private
        assert words not in open_page


def test_an_age_or_a_limit_is_not_told_by_its_refusal(
    shop: Shop, ada: Person, authoriser: User, client_of: ClientOf
):
    make_station(shop, name="Rolling", is_dusty=True)
    make_station(shop, name="Saw", age_min=18)
    for person in (ada, make_minor(shop)):
        page = client_of(authoriser).get(page_of(person)).content.decode()
        assert "A rule about age or a personal limit stops this." in page
        assert not any(words in page for words in ("keep away", "is 15", "dust"))


def test_a_bar_is_the_first_thing_seen(
    ada: Person, drill: Station, duty_lead: User, coordinator: User, client_of: ClientOf
):
    make_bar(ada, drill, reason="left the key in the chuck")
    page = client_of(duty_lead).get(page_of(ada)).content.decode()
    assert "Barred from Drill: left the key in the chuck" in page
    assert "Lift the bar" in page


def test_nobody_sees_people_of_another_shop(
    ada: Person, other_shop: Shop, stranger: User, client_of: ClientOf
):
    assert client_of(stranger).get(page_of(ada)).status_code == 404
    assert client_of(stranger).get(f"/mallow-creek/people/{ada.pk}/").status_code == 404


@pytest.mark.parametrize(
    ("path", "role_that_may_not"),
    [
        ("edit/", "duty_lead"), ("sign-off/", "duty_lead"), ("paper-sign-off/", "authoriser"),
        ("bar/", "volunteer"), ("guardian/", "authoriser"), ("account/", "authoriser"),
        ("waiver/", "authoriser"),
    ],
)  # fmt: skip
def test_each_form_is_for_who_may_use_it(
    ada: Person, client_of: ClientOf, path: str, role_that_may_not: str,
    request: pytest.FixtureRequest, coordinator: User,
):  # fmt: skip
    outsider = request.getfixturevalue(role_that_may_not)
    assert client_of(outsider).get(page_of(ada) + path).status_code == 403
    assert client_of(coordinator).get(page_of(ada) + path).status_code == 200
