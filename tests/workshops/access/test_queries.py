"""Who belongs to which shop."""

from __future__ import annotations

from django.contrib.auth.models import AnonymousUser

from inventory.places.models import Shop
from workshops.access import queries
from workshops.access.models import User


def test_a_membership_is_found_by_the_shops_slug(reader: User, shop: Shop) -> None:
    member = queries.membership_in(reader, shop.slug)
    assert member is not None
    assert (member.shop, member.role) == (shop, "reader")


def test_a_stranger_has_no_membership(stranger: User, shop: Shop) -> None:
    assert queries.membership_in(stranger, shop.slug) is None


def test_shops_of_somebody_not_signed_in_are_none(shop: Shop) -> None:
    assert list(queries.shops_of(AnonymousUser())) == []


def test_shops_of_a_user_are_only_his_own(stranger: User, shop: Shop, other_shop: Shop) -> None:
    assert list(queries.shops_of(stranger)) == [other_shop]


def test_members_of_a_shop_come_by_user_name_without_strangers(
    volunteer: User, coordinator: User, stranger: User, shop: Shop
) -> None:
    assert [member.user for member in queries.members_of(shop)] == [coordinator, volunteer]
