"""The rules page and the form of a rule."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from django.test import Client

from inventory.measures.lengths import inches
from inventory.places.models import Shop
from workshops.access.models import User
from workshops.club.queries import rules_of
from workshops.club.rulebook import RULES

pytestmark = pytest.mark.usefixtures("clock")
ClientOf = Callable[[User], Client]
PAGE = "/teal-point/rules/"
DECISION = {"decided_by": "the board", "decided_on": "2025-10-01", "source": "fire marshal"}


def test_everybody_of_the_shop_reads_every_rule(volunteer: User, client_of: ClientOf):
    page = client_of(volunteer).get(PAGE).content.decode()
    assert all(rule.label.replace("'", "&#x27;") in page for rule in RULES)
    assert "Decide<" not in page


def test_a_stranger_meets_nothing(stranger: User, shop: Shop, client_of: ClientOf):
    assert client_of(stranger).get(PAGE).status_code == 404


def test_only_who_may_edit_rules_decides(duty_lead: User, client_of: ClientOf):
    answer = client_of(duty_lead).post(f"{PAGE}watch_minutes/", DECISION | {"value": "90"})
    assert answer.status_code == 403


@pytest.mark.parametrize(
    ("key", "typed", "kept"),
    [
        ("watch_minutes", "90", 90),
        ("waiver_needed", "no", False),
        ("ring_inside_max_um", "11 1/2", inches("11 1/2")),
        ("floor_holds", "", None),
        ("signers_named_by", "club", "club"),
    ],
)
def test_a_decision_is_kept_and_shown(
    shop: Shop, coordinator: User, client_of: ClientOf, key: str, typed: str, kept: Any
):
    answer = client_of(coordinator).post(f"{PAGE}{key}/", DECISION | {"value": typed})
    assert answer.status_code == 302
    assert getattr(rules_of(shop), key) == kept
    assert rules_of(shop).decision(key).is_decided


def test_a_time_is_kept_as_the_clock_shows_it(shop: Shop, coordinator: User, client_of: ClientOf):
    client_of(coordinator).post(f"{PAGE}minor_latest/", DECISION | {"value": "19:00"})
    assert f"{rules_of(shop).minor_latest:%H:%M}" == "19:00"


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"value": "5"}, "greater than or equal to 30"),
        ({"value": "90", "source": ""}, "required"),
        ({"value": "90", "decided_on": "2031-01-01"}, "still to come"),
    ],
)
def test_what_is_wrong_is_said_beside_the_field(
    shop: Shop, coordinator: User, client_of: ClientOf, fields: dict[str, str], words: str
):
    answer = client_of(coordinator).post(f"{PAGE}watch_minutes/", DECISION | fields)
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert rules_of(shop).watch_minutes == 60


def test_a_length_that_is_none_is_refused_with_an_example(coordinator: User, client_of: ClientOf):
    answer = client_of(coordinator).post(
        f"{PAGE}ring_inside_max_um/", DECISION | {"value": "about a foot"}
    )
    assert "8 ft 6 in" in answer.content.decode()


def test_the_form_comes_alone_to_htmx_and_leaves_the_line(coordinator: User, client_of: ClientOf):
    client = client_of(coordinator)
    form = client.get(f"{PAGE}watch_minutes/", headers={"hx-request": "true"}).content.decode()
    assert "<html" not in form
    line = client.post(
        f"{PAGE}watch_minutes/", DECISION | {"value": "90"}, headers={"hx-request": "true"}
    ).content.decode()
    assert "90 minutes" in line
    assert "<html" not in line


def test_a_decision_can_be_taken_back(shop: Shop, coordinator: User, client_of: ClientOf):
    client = client_of(coordinator)
    client.post(f"{PAGE}watch_minutes/", DECISION | {"value": "90"})
    assert client.post(f"{PAGE}watch_minutes/usual/").status_code == 302
    assert rules_of(shop).watch_minutes == 60


def test_a_rule_nobody_knows_is_not_found(coordinator: User, client_of: ClientOf):
    assert client_of(coordinator).get(f"{PAGE}shoe_size/").status_code == 404
