"""Signing off, entering from paper, barring and lifting, through the pages."""

from __future__ import annotations

from typing import Any

import pytest

from inventory.places.models import Shop
from tests.factories import TODAY, make_bar, make_person, make_sign_off, make_station
from tests.workshops.people.views.conftest import ClientOf
from workshops.access.models import User
from workshops.people.gate import may
from workshops.people.models import Bar, Person, SignOff
from workshops.stations.models import Level, Station


def sign(station: Station, signer: Person, **fields: Any) -> dict[str, Any]:
    """What the form of a sign-off sends."""
    usual = {"station": station.pk, "level": 3, "signed_by": signer.pk, "on": "2026-01-14"}
    return usual | {"evidence": "two clean holes"} | fields


def path(person: Person, page: str) -> str:
    """The address of a form."""
    return f"/teal-point/people/{person.pk}/{page}/"


def test_an_authoriser_signs_and_the_gate_opens(
    ada: Person, berta: Person, drill: Station, authoriser: User, client_of: ClientOf
):
    answer = client_of(authoriser).post(path(ada, "sign-off"), sign(drill, berta))
    assert answer.status_code == 302
    row = SignOff.objects.get(person=ada)
    assert (row.signed_by, row.recorded_by, row.level) == (berta, authoriser, Level.ALONE)
    assert may(ada, drill, TODAY).ok_but_for({"waiver"})


def test_an_authoriser_cannot_sign_in_the_name_of_another(
    shop: Shop, ada: Person, berta: Person, authoriser: User, client_of: ClientOf
):
    weld = make_station(shop, level_needed=Level.ALONE)
    other = make_person(shop)
    make_sign_off(other, weld, Level.MAY_SIGN)
    answer = client_of(authoriser).post(path(ada, "sign-off"), sign(weld, other))
    assert answer.status_code == 422
    assert not SignOff.objects.filter(person=ada).exists()


def test_an_authoriser_cannot_sign_for_another_station_or_for_himself(
    shop: Shop, ada: Person, berta: Person, drill: Station, authoriser: User,
    client_of: ClientOf,
):  # fmt: skip
    client, weld = client_of(authoriser), make_station(shop, level_needed=Level.ALONE)
    refused = client.post(path(ada, "sign-off"), sign(weld, berta))
    assert "has no sign-off for" in refused.content.decode()
    assert client.post(path(berta, "sign-off"), sign(drill, berta)).status_code == 422
    assert SignOff.objects.count() == 1


def test_an_account_that_is_nobodys_cannot_sign(
    ada: Person, drill: Station, authoriser: User, client_of: ClientOf
):
    page = client_of(authoriser).get(path(ada, "sign-off")).content.decode()
    assert "You cannot sign here" in page


def test_a_coordinator_enters_what_an_authoriser_signed_on_paper_that_night(
    ada: Person, berta: Person, drill: Station, coordinator: User, client_of: ClientOf
):
    client_of(coordinator).post(path(ada, "sign-off"), sign(drill, berta))
    row = SignOff.objects.get(person=ada)
    assert (row.signed_by, row.recorded_by) == (berta, coordinator)


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"on": "2026-01-15"}, "still to come"),
        ({"evidence": ""}, "required"),
        ({"valid_until": "2030-01-01"}, "as the club&#x27;s rule has it"),
        ({"level": "9"}, "not one of the available choices"),
    ],
)
def test_what_is_wrong_is_said_and_nothing_is_kept(
    ada: Person, berta: Person, drill: Station, authoriser: User, client_of: ClientOf,
    fields: dict[str, str], words: str,
):  # fmt: skip
    answer = client_of(authoriser).post(path(ada, "sign-off"), sign(drill, berta, **fields))
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert not SignOff.objects.filter(person=ada).exists()


def test_the_first_authoriser_is_entered_from_the_paper_register(
    ada: Person, drill: Station, coordinator: User, client_of: ClientOf
):
    fields = sign(drill, ada, level=5, evidence="register of 2025, page 4")
    assert client_of(coordinator).post(path(ada, "paper-sign-off"), fields).status_code == 302
    assert may(ada, drill, TODAY, doing="signs").ok


def test_a_bar_is_set_and_lifted_through_the_pages(
    ada: Person, drill: Station, duty_lead: User, client_of: ClientOf
):
    client = client_of(duty_lead)
    client.post(path(ada, "bar"), {"station": drill.pk, "reason": "no glasses"})
    bar = Bar.objects.get()
    assert (bar.set_by, bar.reason, bar.lifted_at) == ("Dov", "no glasses", None)
    client.post(f"/teal-point/people/{ada.pk}/bars/{bar.pk}/lift/")
    bar.refresh_from_db()
    assert bar.lifted_by == "Dov"


def test_somebody_barred_cannot_lift_it_himself(
    berta: Person, drill: Station, authoriser: User, client_of: ClientOf
):
    bar = make_bar(berta, drill)
    answer = client_of(authoriser).post(
        f"/teal-point/people/{berta.pk}/bars/{bar.pk}/lift/", follow=True
    )
    assert "Nobody lifts a bar that stops themselves" in answer.content.decode()
    bar.refresh_from_db()
    assert bar.lifted_at is None


def test_a_bar_is_lifted_by_post_only_and_only_in_its_own_shop(
    ada: Person, duty_lead: User, stranger: User, client_of: ClientOf
):
    bar = make_bar(ada)
    page = f"people/{ada.pk}/bars/{bar.pk}/lift/"
    assert client_of(duty_lead).get(f"/teal-point/{page}").status_code == 405
    assert client_of(stranger).post(f"/mallow-creek/{page}").status_code == 404
