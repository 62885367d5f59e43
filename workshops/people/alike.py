"""Who may be one person entered twice: the same address, phone or birthday, or nearly the name."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from difflib import SequenceMatcher
from typing import Protocol

from inventory.places.models import Shop
from workshops.people.models import Person

NEAR = 0.82  # Jon and John Marsh, but not Ann and Jan Marsh


class Told(Protocol):
    """What is told of somebody: a row, or the row of a list."""

    @property
    def first_name(self) -> str: ...
    @property
    def last_name(self) -> str: ...
    @property
    def email(self) -> str: ...
    @property
    def phone(self) -> str: ...
    @property
    def born_on(self) -> date | None: ...


@dataclass(frozen=True, slots=True)
class Pair:
    """Two entries that may be one person, and what is alike."""

    one: Person
    other: Person
    why: tuple[str, ...]


def full_name(told: Told) -> str:
    """The name as it is compared: small letters, one blank between words."""
    return " ".join(f"{told.first_name} {told.last_name}".casefold().split())


def digits(phone: str) -> str:
    """The last digits of a phone number; empty for what is too short to tell people apart."""
    found = re.sub(r"\D", "", phone)
    return found[-9:] if len(found) >= 6 else ""


def is_near(one: str, other: str) -> bool:
    """Whether two names differ by a slip or two, or by the order of their words."""
    if sorted(one.split()) == sorted(other.split()):
        return True
    match = SequenceMatcher(None, one, other, autojunk=False)
    return match.real_quick_ratio() >= NEAR and match.quick_ratio() >= NEAR <= match.ratio()


def likeness(one: Told, other: Told) -> tuple[str, ...]:
    """What makes two perhaps the same person; empty when nothing does.

    Two dates of birth that differ make them two people, whatever else is alike: a parent and
    a child share an address, a phone and often a name.
    """
    if one.born_on and other.born_on and one.born_on != other.born_on:
        return ()
    names = full_name(one), full_name(other)
    why = []
    if is_near(*names):
        why.append("the same name" if names[0] == names[1] else "nearly the same name")
    if one.email and one.email.casefold() == other.email.casefold():
        why.append("the same e-mail")
    if digits(one.phone) and digits(one.phone) == digits(other.phone):
        why.append("the same phone")
    if one.born_on and one.born_on == other.born_on:
        why.append("the same date of birth")
    # A birthday shared by two people of other names is common in a club of two hundred.
    return () if why == ["the same date of birth"] else tuple(why)


def perhaps_the_same(shop: Shop) -> list[Pair]:
    """Pairs of entries that may be one person, the likest first: one query; may be empty."""
    rows = list(Person.objects.filter(shop=shop, merged_into=None, erasure=None))
    found = [
        Pair(one, other, why) for one, other in _worth_asking(rows) if (why := likeness(one, other))
    ]
    return sorted(found, key=lambda pair: (-len(pair.why), full_name(pair.one), pair.one.pk))


def _worth_asking(rows: Iterable[Person]) -> Iterable[tuple[Person, Person]]:
    """Pairs that share an address, a phone or a beginning: not every pair of a long list."""
    shelves: defaultdict[str, list[Person]] = defaultdict(list)
    for row in rows:
        marks = {word[:2] for word in full_name(row).split()}
        for mark in marks | {row.email.casefold(), digits(row.phone)} - {""}:
            shelves[mark].append(row)
    seen: set[tuple[int, int]] = set()
    for shelf in shelves.values():
        for place, one in enumerate(shelf):
            for other in shelf[place + 1 :]:
                key = (min(one.pk, other.pk), max(one.pk, other.pk))
                if key not in seen:
                    seen.add(key)
                    yield one, other
