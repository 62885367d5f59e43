"""Deciding a rule."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from inventory.places.models import Shop
from tests.factories import TODAY
from workshops.access.models import User
from workshops.club.actions import drop_rule, set_rule
from workshops.club.models import ClubRule
from workshops.club.queries import rules_of
from workshops.club.rule import RuleRefused

pytestmark = pytest.mark.usefixtures("clock")


def decide(shop: Shop, **fields: Any) -> ClubRule:
    """The watch lasts ninety minutes, decided by the board, unless said otherwise."""
    usual = {"key": "watch_minutes", "value": 90, "decided_by": "the board"}
    usual |= {"decided_on": date(2025, 10, 1), "source": "fire marshal", "by": None}
    return set_rule(shop=shop, **(usual | fields))


def test_a_decision_holds_from_then_on(shop: Shop, coordinator: User):
    row = decide(shop, by=coordinator)
    assert rules_of(shop).watch_minutes == 90
    assert row.recorded_by == coordinator


def test_a_later_decision_replaces_the_earlier(shop: Shop):
    decide(shop)
    decide(shop, value=45, decided_by="the marshal")
    assert rules_of(shop).decision("watch_minutes").decided_by == "the marshal"
    assert ClubRule.objects.count() == 1


@pytest.mark.parametrize(
    ("fields", "word"),
    [
        ({"key": "shoe_size"}, "no rule"),
        ({"value": 5}, "30 to 240"),
        ({"decided_by": " "}, "Decided by"),
        ({"source": ""}, "From what"),
        ({"decided_on": TODAY + timedelta(days=1)}, "still to come"),
    ],
)
def test_a_decision_that_is_not_whole_is_refused(shop: Shop, fields: dict[str, Any], word: str):
    with pytest.raises(RuleRefused, match=word):
        decide(shop, **fields)
    assert not ClubRule.objects.exists()


def test_dropping_a_decision_brings_the_usual_value_back(shop: Shop):
    decide(shop)
    drop_rule(shop=shop, key="watch_minutes")
    drop_rule(shop=shop, key="watch_minutes")
    assert rules_of(shop).watch_minutes == 60
