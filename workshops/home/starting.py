"""Set up an empty club: what is asked, what is refused, and the rows, all or none."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from zoneinfo import available_timezones

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils.text import slugify

from inventory.places.models import Shop
from workshops.access import actions as access
from workshops.access.models import Membership, User
from workshops.club.models import Club

# A shop's name begins its addresses, so it cannot be the first word of another page.
TAKEN_WORDS = frozenset(
    {"admin", "calendar", "face", "link", "password", "sign-in", "sign-out", "static", "worker.js"}
)


class StartRefused(ValueError):
    """An answer that cannot be used: ``key`` says which, the text what to write instead."""

    def __init__(self, key: str, reason: str) -> None:
        self.key = key
        super().__init__(reason)


@dataclass(frozen=True)
class Question:
    """One thing that must be known; ``check`` gives the answer as it is kept."""

    key: str
    asks: str
    check: Callable[[str], str]
    usual: str = ""
    is_secret: bool = False


def club_name(text: str) -> str:
    """A name of 1 to 120 letters."""
    if not 1 <= len(text) <= 120:
        raise StartRefused("club", "Write the club's name, at most 120 letters.")
    return text


def shop_name(text: str) -> str:
    """A name whose address is free."""
    slug = slugify(text)[:40]
    if not slug or len(text) > 80:
        raise StartRefused("shop", "Write the shop's name: at most 80 letters, some of them a–z.")
    if slug in TAKEN_WORDS:
        raise StartRefused("shop", f"“{text}” is the address of another page: add a word to it.")
    if Shop.objects.filter(slug=slug).exists():
        raise StartRefused("shop", f"There is a shop called “{text}” already: add a word to it.")
    return text


def time_zone(text: str) -> str:
    """A time zone this machine knows."""
    if text not in available_timezones():
        raise StartRefused(
            "time_zone", f"“{text}” is not a time zone: write one like America/Chicago."
        )
    return text


def units(text: str) -> str:
    """``in`` or ``mm``."""
    if text not in Shop.UnitChoice.values:
        raise StartRefused("units", "Write in for inches and fractions, or mm for millimetres.")
    return text


def username(text: str) -> str:
    """A user name nobody has."""
    try:
        User.username_validator(text)
    except ValidationError as refused:
        raise StartRefused("coordinator", " ".join(refused.messages)) from refused
    if User.objects.filter(username__iexact=text).exists():
        raise StartRefused("coordinator", f"Somebody signs in as “{text}” already: write another.")
    return text


def password(text: str) -> str:
    """A password that is not easily guessed."""
    try:
        validate_password(text)
    except ValidationError as refused:
        raise StartRefused("password", " ".join(refused.messages)) from refused
    return text


QUESTIONS = (
    Question("club", "What is the club called?", club_name),
    Question("shop", "What is its shop called?", shop_name, "The shop"),
    Question("time_zone", "Which time zone is the shop in (like America/Chicago)?", time_zone),
    Question("units", "Lengths in inches or millimetres (in or mm)?", units, "in"),
    Question("coordinator", "User name of the first coordinator?", username, "coordinator"),
    Question("password", "A password for the coordinator (8 letters or more)?", password,
             is_secret=True),
)  # fmt: skip


@transaction.atomic
def start_club(
    *, club: str, shop: str, time_zone: str, units: str, coordinator: str, password: str
) -> Membership:
    """The club with its shop and its first coordinator; all of it or nothing.

    Raises
    ------
    StartRefused
        Naming the first answer that cannot be used.
    """
    answers = {
        "club": club, "shop": shop, "time_zone": time_zone, "units": units,
        "coordinator": coordinator, "password": password,
    }  # fmt: skip
    kept = {question.key: question.check(answers[question.key]) for question in QUESTIONS}
    is_metric = kept["units"] == Shop.UnitChoice.MILLIMETRE
    paper = Shop.PaperSize.A4 if is_metric else Shop.PaperSize.LETTER
    made = Shop.objects.create(
        name=kept["shop"], slug=slugify(kept["shop"])[:40], time_zone=kept["time_zone"],
        units=kept["units"], paper_size=paper,
    )  # fmt: skip
    Club.objects.create(shop=made, name=kept["club"])
    return access.add_member(
        shop=made, role=Membership.Role.COORDINATOR,
        username=kept["coordinator"], password=kept["password"],
    )  # fmt: skip
