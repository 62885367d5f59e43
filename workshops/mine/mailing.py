"""The letter with the link, and the one to an address that is no longer somebody's."""

from __future__ import annotations

from collections.abc import Sequence

from django.conf import settings
from django.core.mail import send_mail
from django.template.loader import render_to_string
from django.urls import reverse

from workshops.mine.links import is_let_in, token_of
from workshops.mine.models import Link
from workshops.people.models import Person


def send_link(link: Link, people: Sequence[Person], *, site: str) -> None:
    """Send the link to its address; those who need a password are told so instead.

    ``site`` is the site's own address, without a stroke at the end.
    """
    let_in = [person for person in people if is_let_in(person)]
    words = {
        "clubs": list(dict.fromkeys(person.shop.name for person in people)),
        "link": site + reverse("mine:open", args=[token_of(link)]) if let_in else "",
        "sign_in": site + reverse("access:sign_in") if len(let_in) < len(people) else "",
        "minutes": settings.SESAME_MAX_AGE // 60,
    }
    send_mail(
        "Your link to your shop nights",
        render_to_string("mine/link.txt", words),
        settings.DEFAULT_FROM_EMAIL,
        [link.email],
    )


def send_address_changed(person: Person, before: str) -> None:
    """Tell the address a person had before that it is theirs no more; the new one is not named."""
    club = getattr(person.shop, "club", None)
    words = {
        "person": person,
        "club": club.name if club else person.shop.name,
        "contact": club.contact if club else "",
    }
    send_mail(
        "Your e-mail address was changed",
        render_to_string("mine/address_changed.txt", words),
        settings.DEFAULT_FROM_EMAIL,
        [before],
    )
