"""The re-sign evening on a page, on paper, and one person after another."""

from __future__ import annotations

from datetime import timedelta

import pytest

from inventory.places.models import Shop
from tests.factories import TODAY, make_operation, make_sign_off
from tests.workshops.paper.reading import pages_of, paper_of
from tests.workshops.training.conftest import ClientOf, ready
from workshops.access.models import User
from workshops.people.models import Person, SignOff
from workshops.stations.models import Level, Station

PAGE = "/teal-point/training/re-sign/"


@pytest.fixture
def bo(shop: Shop, drill: Station) -> Person:
    """Lapsed yesterday at the drill."""
    person = ready(shop, "Bo")
    make_sign_off(person, drill, valid_until=TODAY - timedelta(days=1))
    return person


@pytest.fixture
def points(drill: Station) -> list[str]:
    """What the drill's card wants to see."""
    steps = [
        {"step": "Clamp", "key_point": "vise closed", "reason": "it spins"},
        {"step": "Key", "key_point": "chuck key out", "reason": "it flies"},
    ]
    make_operation(drill, steps=steps)
    return ["Clamp: vise closed", "Key: chuck key out"]


def test_ticked_points_are_kept_with_the_signature(
    bo: Person, arno: Person, drill: Station, points: list[str], authoriser: User,
    client_of: ClientOf,
):  # fmt: skip
    client, one = client_of(authoriser), f"{PAGE}{bo.pk}/{drill.pk}/"
    assert points[0] in client.get(one).text
    answer = client.post(one, {"signed_by": arno.pk, "points": points[:1]})
    assert answer.status_code == 302
    row = SignOff.objects.latest("pk")
    assert (row.person, row.level, row.signed_on) == (bo, Level.ALONE, TODAY)
    assert (row.points_shown, row.points_left) == (points[:1], points[1:])
    assert "<strong>1 of 1</strong> signed again" in client.get(PAGE).text


def test_nothing_shown_is_not_signed(
    bo: Person, arno: Person, drill: Station, authoriser: User, client_of: ClientOf
):
    answer = client_of(authoriser).post(f"{PAGE}{bo.pk}/{drill.pk}/", {"signed_by": arno.pk})
    assert answer.status_code == 422
    assert "tick what you saw" in answer.text
    assert SignOff.objects.filter(person=bo).count() == 1


def test_an_authoriser_signs_for_nobody_else(
    shop: Shop, bo: Person, arno: Person, drill: Station, authoriser: User, client_of: ClientOf
):
    una = ready(shop, "Una")
    make_sign_off(una, drill, Level.MAY_SIGN)
    form = {"signed_by": una.pk, "evidence": "seen"}
    answer = client_of(authoriser).post(f"{PAGE}{bo.pk}/{drill.pk}/", form)
    assert answer.status_code == 422


def test_the_list_of_whoever_is_signed_in_comes_first(
    shop: Shop, bo: Person, arno: Person, drill: Station, authoriser: User, client_of: ClientOf
):
    una = ready(shop, "Abel")
    make_sign_off(una, drill, Level.MAY_SIGN)
    cy = ready(shop, "Cy")
    make_sign_off(cy, drill, valid_until=TODAY)
    text = client_of(authoriser).get(PAGE).text
    assert f'id="signer-{arno.pk}"' in text
    assert f'id="signer-{una.pk}"' not in text
    assert f'id="signer-{una.pk}"' in client_of(authoriser).get(PAGE, {"signer": una.pk}).text


def test_an_evening_to_come_is_prepared_and_not_signed(
    bo: Person, arno: Person, authoriser: User, client_of: ClientOf
):
    text = client_of(authoriser).get(PAGE, {"on": "2026-01-28", "until": "nonsense"}).text
    assert "28 Jan 2026" in text
    assert "Tick and sign" not in text


def test_the_paper_has_a_page_for_each_authoriser(
    shop: Shop, bo: Person, arno: Person, drill: Station, authoriser: User, client_of: ClientOf
):
    make_sign_off(ready(shop, "Una"), drill, Level.MAY_SIGN)
    make_sign_off(ready(shop, "Cy"), drill, valid_until=TODAY)
    answer = client_of(authoriser).get(f"{PAGE}paper/")
    pages = pages_of(answer.content)
    assert [page.split("signs")[0] for page in pages] == ["ArnoReed", "UnaReed"]
    assert paper_of(answer.content) == {(612, 792)}


def test_nothing_due_says_so(shop: Shop, authoriser: User, client_of: ClientOf):
    assert "Nothing has lapsed" in client_of(authoriser).get(PAGE).text
    assert client_of(authoriser).get(f"{PAGE}paper/").status_code == 200


def test_a_station_never_signed_for_cannot_be_signed_again(
    shop: Shop, arno: Person, drill: Station, authoriser: User, client_of: ClientOf
):
    person = ready(shop, "New")
    assert client_of(authoriser).get(f"{PAGE}{person.pk}/{drill.pk}/").status_code == 404
