"""Links asked for and used, and the address of a calendar."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction
from django.utils import timezone

from workshops.access.actions import give_role, make_user_without_password
from workshops.access.models import Membership, User
from workshops.common.jobs import start
from workshops.mine.links import is_let_in, link_of, people_at
from workshops.mine.models import Feed, Link, new_secret
from workshops.mine.refusals import LinkRefused
from workshops.people.actions import link_account
from workshops.people.models import Person

SPENT = "This link is used or too old. Ask for another: it takes a minute."


@transaction.atomic
def ask_for_link(*, email: str, site: str, at: datetime | None = None) -> Link | None:
    """Have a link sent to an address, or None when no club has it on its list.

    Whoever calls this answers alike in both cases.
    """
    email = email.strip().lower()
    first = people_at(email).first()
    if first is None:
        return None
    link = Link.objects.create(email=email, asked_at=at or timezone.now())
    start("mail_link", shop=first.shop, by=None, link=link.pk, site=site)
    return link


@transaction.atomic
def use_link(*, token: str, person: int, at: datetime | None = None) -> Person:
    """Use a link up for one of the people at its address; the person has an account then.

    Raises
    ------
    LinkRefused
        When the link is used or too old, the person is not at its address, or may do more
        than an e-mail opens.
    """
    link = link_of(token)
    # Looked for again under the lock: a link opened twice at once lets one in.
    held = Link.objects.select_for_update().filter(pk=link.pk if link else 0, used_at=None).first()
    if held is None:
        raise LinkRefused(SPENT)
    found = people_at(held.email).filter(pk=person).first()
    if found is None:
        raise LinkRefused("Choose for whom you open the link.")
    if not is_let_in(found):
        raise LinkRefused(f"{found.first_name} signs in with a password; ask the coordinator.")
    held.used_at = at or timezone.now()
    held.save(update_fields=["used_at"])
    if found.user is None:
        _give_account(found)
    return found


def _give_account(person: Person) -> User:
    user = make_user_without_password(
        first_name=person.first_name, last_name=person.last_name, email=person.email
    )
    give_role(user=user, shop=person.shop, role=Membership.Role.VOLUNTEER)
    link_account(person=person, user=user, by=user)
    return user


@transaction.atomic
def feed_of(*, person: Person) -> Feed:
    """The person's calendar, made when it is first asked for."""
    feed, _ = Feed.objects.get_or_create(person=person, defaults={"shop": person.shop})
    return feed


@transaction.atomic
def renew_feed(*, person: Person, at: datetime | None = None) -> Feed:
    """Give the person's calendar another address; the old one finds nothing from now on."""
    feed = feed_of(person=person)
    feed.secret, feed.made_at = new_secret(), at or timezone.now()
    feed.save(update_fields=["secret", "made_at"])
    return feed


@transaction.atomic
def show_all_nights(*, person: Person, has_all_nights: bool) -> Feed:
    """Say whether the calendar also shows nights the person did not say yes or maybe to."""
    feed = feed_of(person=person)
    feed.has_all_nights = has_all_nights
    feed.save(update_fields=["has_all_nights"])
    return feed
