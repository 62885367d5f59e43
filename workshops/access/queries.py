"""Who belongs to which shop."""

from __future__ import annotations

from django.contrib.auth.models import AnonymousUser
from django.db.models import QuerySet

from inventory.places.models import Shop
from workshops.access.models import Membership, User


def membership_in(user: User, slug: str) -> Membership | None:
    """The user's membership of the shop with that slug, or None (one query).

    None for a shop that does not exist and for one the user does not belong to alike, so
    that nobody learns from the answer which shops there are.
    """
    return (
        Membership.objects.select_related("shop", "user").filter(user=user, shop__slug=slug).first()
    )


def shops_of(user: User | AnonymousUser) -> QuerySet[Shop]:
    """The shops a user belongs to, by name; none for somebody who is not signed in."""
    if isinstance(user, AnonymousUser):
        # A query set all the same, so that templates ask it the same things.
        return Shop.objects.none()
    return Shop.objects.filter(memberships__user=user).order_by("name")


def members_of(shop: Shop) -> QuerySet[Membership]:
    """Everybody who may sign in at a shop, by user name (one query)."""
    return Membership.objects.filter(shop=shop).select_related("user").order_by("user__username")
