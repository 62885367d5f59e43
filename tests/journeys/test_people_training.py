"""A sign-off ends in mid-winter, everybody lapsed on the first night, and the man who bends."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import pytest
from django.core import mail
from django.core.management import call_command
from django.test import Client

from inventory.places.models import Shop
from tests.factories import (
    TODAY,
    make_night,
    make_person,
    make_sign_off,
    make_sign_up,
    make_station,
    make_waiver,
)
from workshops.access.models import User
from workshops.nights.models import Night, Placing
from workshops.people.models import Person, SignOff
from workshops.stations.models import Level, Station

pytestmark = pytest.mark.django_db
ClientOf = Callable[[User], Client]


@pytest.fixture
def bend(shop: Shop, clock: Any) -> Station:
    """Bending, for people signed off to work alone; three fit at its bench."""
    return make_station(shop, name="Bend", kind="bend", level_needed=Level.ALONE, crew_max=3)


def join(shop: Shop, name: str, at: Station, level: Level, **fields: Any) -> Person:
    """Somebody with a waiver, signed off to some day."""
    until = fields.pop("until", date(2026, 11, 4))
    person = make_person(shop, first_name=name, last_name="Reed", **fields)
    make_waiver(person)
    make_sign_off(person, at, level, valid_until=until)
    return person


def plan(client: Client, shop: Shop, night: Night, capture: Any) -> None:
    """Press “Place everybody”."""
    with capture(execute=True):
        client.post(f"/{shop.slug}/nights/{night.date}/plan/", {"anew": "yes"})


def test_a_sign_off_that_ends_in_mid_winter_is_warned_of_twice_refused_and_signed_again(
    shop: Shop, bend: Station, authoriser: User, duty_lead: User, client_of: ClientOf, clock: Any
):
    arno = join(shop, "Arno", bend, Level.MAY_SIGN, user=authoriser, email="arno@example.org")
    ben = join(shop, "Ben", bend, Level.ALONE, email="ben@example.org",
               until=TODAY + timedelta(days=20))  # fmt: skip
    for days in (0, 1, 14, 1):
        clock.shift(timedelta(days=days))
        call_command("warn_lapses")
    assert [message.to for message in mail.outbox].count(["ben@example.org"]) == 2
    assert [message.to for message in mail.outbox].count(["arno@example.org"]) == 2
    clock.shift(timedelta(days=5))
    night = make_night(shop, date=TODAY + timedelta(days=21))
    make_sign_up(night, ben)
    lead = client_of(duty_lead)
    block = night.blocks.all()[0]
    move = f"/{shop.slug}/nights/{night.date}/move/{block.pk}/{ben.pk}/"
    refused = lead.post(move, {"station": bend.pk}, follow=True).text
    assert "stays where they were" in refused
    assert not Placing.objects.exists()
    signs = client_of(authoriser)
    assert "Ben Reed" in signs.get(f"/{shop.slug}/training/re-sign/").text
    signs.post(f"/{shop.slug}/training/re-sign/{ben.pk}/{bend.pk}/",
               {"signed_by": arno.pk, "evidence": "bent a cradle rod to the gauge"})  # fmt: skip
    lead.post(move, {"station": bend.pk})
    assert Placing.objects.get().person == ben


def test_on_the_first_night_everybody_has_lapsed_and_authorisers_are_signed_first(
    shop: Shop, bend: Station, authoriser: User, coordinator: User, client_of: ClientOf
):
    gone = TODAY - timedelta(days=70)
    arno = join(shop, "Arno", bend, Level.MAY_SIGN, user=authoriser, until=gone)
    una = join(shop, "Una", bend, Level.MAY_SIGN, until=gone)
    ben = join(shop, "Ben", bend, Level.ALONE, until=gone)
    boss, signs = client_of(coordinator), client_of(authoriser)
    page = f"/{shop.slug}/training/re-sign/"
    text = boss.get(page).text
    assert "3 cannot be signed this evening" in text
    assert "Nobody who may sign others here has a sign-off that counts." in text
    # Nobody signs: not the lapsed authoriser, and nobody for himself.
    form = {"signed_by": arno.pk, "evidence": "seen"}
    assert signs.post(f"{page}{ben.pk}/{bend.pk}/", form).status_code == 422
    # The board names one again, as its own minutes say, and from there it goes on.
    boss.post(f"/{shop.slug}/people/{arno.pk}/paper-sign-off/", {
        "station": bend.pk, "level": 5, "evidence": "board minutes, page 3", "on": TODAY,
    })  # fmt: skip
    # Una stands in once she is signed: half of the others wait for her.
    text = signs.get(page).text
    assert "first: may sign others" in text
    assert "Una Reed</a> at Bend" in text
    assert "Ben Reed</a> at Bend" in signs.get(page, {"signer": una.pk}).text
    for person in (una, ben):
        signs.post(f"{page}{person.pk}/{bend.pk}/", form)
    assert SignOff.objects.filter(signed_by=arno, signed_on=TODAY).count() == 2
    assert "<strong>3 of 3</strong> signed again" in signs.get(page).text


def test_the_one_man_who_bends_is_shown_in_red_and_the_timetable_trains_a_second(
    shop: Shop, bend: Station, duty_lead: User, authoriser: User, client_of: ClientOf,
    django_capture_on_commit_callbacks: Any,
):  # fmt: skip
    nights = [make_night(shop, date=TODAY + timedelta(weeks=number)) for number in range(10)]
    ben = join(shop, "Ben", bend, Level.MAY_LEAD)
    eve = join(shop, "Eve", bend, Level.WITH_A_LEAD)
    for night in nights[:9]:
        make_sign_up(night, ben)
    make_sign_up(nights[1], eve)
    lead = client_of(duty_lead)
    assert (
        "Only Ben R. can, and is down for 8 of the 8 nights ahead."
        in lead.get(f"/{shop.slug}/training/").text
    )
    matrix = lead.get(f"/{shop.slug}/people/sign-offs/").text
    assert "Hangs on one person or nobody:" in matrix
    assert '<td class="nobody">only 1' in matrix
    lead.post(f"/{shop.slug}/training/timetable/take/")
    plan(lead, shop, nights[1], django_capture_on_commit_callbacks)
    places = Placing.objects.filter(night=nights[1], station=bend)
    assert {(row.person, row.role) for row in places} == {(eve, "learns"), (ben, "leads")}
    assert "together" in lead.get(f"/{shop.slug}/nights/{nights[1].date}/").text
