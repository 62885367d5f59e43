"""What the database keeps of the club's rules."""

from __future__ import annotations

from datetime import date

import pytest
from django.db import IntegrityError

from inventory.places.models import Shop
from workshops.club.models import Club, ClubRule


def keep(shop: Shop) -> ClubRule:
    """One decision."""
    return ClubRule.objects.create(
        shop=shop, key="watch_minutes", value=60, decided_by="x",
        decided_on=date(2025, 9, 1), source="x",
    )  # fmt: skip


def test_a_rule_is_decided_once_a_shop(shop: Shop):
    keep(shop)
    with pytest.raises(IntegrityError):
        keep(shop)


def test_two_shops_decide_for_themselves(shop: Shop, other_shop: Shop):
    assert keep(shop).shop != keep(other_shop).shop
    assert str(ClubRule.objects.first()) == "watch_minutes: 60"


def test_a_shop_has_one_club(shop: Shop):
    Club.objects.create(shop=shop, name="Teal Point Wildfowlers")
    with pytest.raises(IntegrityError):
        Club.objects.create(shop=shop, name="Another")
