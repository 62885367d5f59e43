"""Accounts and roles: given whole, refused with the reason, never leaving a shop alone."""

from __future__ import annotations

import pytest
from django.core.exceptions import ValidationError

from inventory.places.models import Shop
from workshops.access import actions, queries
from workshops.access.models import Membership, User

PASSWORD = "larch-and-sedge-9"


def test_a_new_member_can_sign_in_with_a_role(shop: Shop) -> None:
    member = actions.add_member(
        shop=shop, role="storekeeper", username="oda", password=PASSWORD, first_name="Oda"
    )
    assert member.user.check_password(PASSWORD)
    assert queries.membership_in(member.user, shop.slug) == member


def test_a_user_name_is_given_once_whatever_its_capitals(coordinator: User, shop: Shop) -> None:
    with pytest.raises(actions.NameTaken, match="Carla"):
        actions.make_user(username="Carla", password=PASSWORD)


def test_a_weak_password_leaves_nothing_behind(shop: Shop) -> None:
    with pytest.raises(ValidationError):
        actions.add_member(shop=shop, role="reader", username="oda", password="12345678")
    assert not User.objects.filter(username="oda").exists()


def test_a_role_nobody_knows_leaves_nothing_behind(shop: Shop) -> None:
    with pytest.raises(ValidationError, match="not a role"):
        actions.add_member(shop=shop, role="owl", username="oda", password=PASSWORD)
    assert not User.objects.filter(username="oda").exists()


def test_the_last_coordinator_cannot_leave(coordinator: User, shop: Shop) -> None:
    with pytest.raises(actions.LastCoordinator, match="somebody else"):
        actions.take_role(user=coordinator, shop=shop)


def test_the_last_coordinator_cannot_take_a_lesser_role(coordinator: User, shop: Shop) -> None:
    with pytest.raises(actions.LastCoordinator):
        actions.give_role(user=coordinator, shop=shop, role="reader")
    assert Membership.objects.get(user=coordinator).role == "coordinator"


def test_a_coordinator_may_go_once_another_stands_in(
    coordinator: User, volunteer: User, shop: Shop
) -> None:
    actions.give_role(user=volunteer, shop=shop, role="coordinator")
    assert "no longer" in actions.change_role(user=coordinator, shop=shop, role="")
    assert queries.membership_in(coordinator, shop.slug) is None


def test_changing_a_role_says_the_new_one(coordinator: User, volunteer: User, shop: Shop) -> None:
    says = actions.change_role(user=volunteer, shop=shop, role="duty_lead")
    assert says == "vera is now duty lead."
