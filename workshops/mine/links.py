"""The signed part of a one-time link, and whom it lets in.

django-sesame signs users; a link is of an e-mail address, whose people may have no account
yet. So it signs the row of the link in the place of a user.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from django.db.models import QuerySet
from sesame.tokens import create_token, parse_token

from workshops.access.models import Membership, User
from workshops.access.roles import permissions_of
from workshops.mine.models import Link
from workshops.people.models import Person

SCOPE = "mine"
# What an e-mail may open: reading, and one's own nights. Whoever may do more signs in with
# a password, so that no mailbox opens the register of sign-offs or the stock.
OPENED_BY_LINK = permissions_of(Membership.Role.VOLUNTEER) | permissions_of(Membership.Role.READER)


@dataclass(frozen=True, slots=True)
class _Signed:
    """A link as django-sesame reads a user: used once, its signature fits no more."""

    pk: int
    last_login: datetime | None
    password: None = None


def token_of(link: Link) -> str:
    """The signed part of the address."""
    return str(create_token(_Signed(link.pk, link.used_at), scope=SCOPE))


def link_of(token: str) -> Link | None:
    """The link of a token; None when it is used, too old, or never was one (one query)."""
    signed = parse_token(token, _signed, scope=SCOPE)
    return Link.objects.get(pk=signed.pk) if signed else None


def _signed(pk: int) -> _Signed | None:
    link = Link.objects.filter(pk=pk).first()
    return _Signed(link.pk, link.used_at) if link else None


def people_at(email: str) -> QuerySet[Person]:
    """Everybody on a club's list with that address, parents and children alike (one query)."""
    found = Person.objects.filter(email__iexact=email.strip()).active()
    return found.select_related("shop", "user").order_by("shop__name", "pk")


def needs_password(user: User) -> bool:
    """Whether an account may do more than a link opens, in any of its shops (one query)."""
    roles = user.memberships.values_list("role", flat=True)
    more = any(not permissions_of(role) <= OPENED_BY_LINK for role in roles)
    return more or user.is_staff or user.is_superuser or not user.is_active


def is_let_in(person: Person) -> bool:
    """Whether a link opens the pages of that person."""
    if person.user is None:
        return True
    is_member = person.user.memberships.filter(shop=person.shop_id).exists()
    return is_member and not needs_password(person.user)
