"""By which words a person is known, and nobody else: what a sweep may look for."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from auditlog.models import LogEntry
from django.contrib.contenttypes.models import ContentType

from inventory.places.models import Shop
from workshops.people.models import Erasure, Person
from workshops.people.names import short_names, told_apart

# Shorter numbers and notes stand in texts that mean something else.
LEAST_DIGITS, LEAST_LETTERS = 6, 6


def entries_of(person: Person) -> tuple[Person, ...]:
    """The entry, and those that were joined with it (two queries)."""
    found, layer = [person], [person]
    while layer := list(Person.objects.filter(merged_into__in=layer).order_by("pk")):
        found += layer
    return tuple(found)


def is_erased(person: Person) -> bool:
    """Whether the entry stands only behind its number (one query)."""
    return Erasure.objects.filter(person=person).exists()


def known_by(people: Sequence[Person]) -> tuple[str, ...]:
    """Names, addresses and numbers of the entries that nobody else of the shop shares.

    Earlier names are read from the trail of changes. A first name alone means nobody: half
    the club may bear it. Four queries.
    """
    shop, numbers = people[0].shop, {person.pk for person in people}
    everybody = list(Person.objects.filter(shop=shop))
    others = {word.casefold() for each in everybody if each.pk not in numbers
              for word in _plain(each)}  # fmt: skip
    full, short = told_apart(everybody), short_names(everybody)
    mine = [word for person in people for word in _plain(person)]
    mine += [name for person in people for name in (full[person.pk], short[person.pk])]
    mine += list(_earlier(people, everybody))
    told = {word: None for word in mine if word.casefold() not in others and _tells(word)}
    return tuple(told)


def in_the_clubs_contact(shop: Shop, words: Iterable[str]) -> bool:
    """Whether the club itself is reached through one of the words (one query)."""
    club = getattr(shop, "club", None)
    contact = club.contact.casefold() if club else ""
    return any(word.casefold() in contact for word in words)


def _plain(person: Person) -> Iterator[str]:
    yield from (str(person), person.email, person.phone, person.emergency_contact)


def _tells(word: str) -> bool:
    """Whether a word is enough to mean somebody."""
    letters = re.sub(r"[^\w@]", "", word)
    if letters.isdecimal():
        return len(letters) >= LEAST_DIGITS
    # "Ada M." is told apart from everybody else of the list; "Ada" is not.
    is_name = " " in word.strip() and len(letters) >= 3
    return is_name or ("@" in word and len(word) >= LEAST_LETTERS)


def _earlier(people: Sequence[Person], everybody: Iterable[Person]) -> Iterator[str]:
    """Full names that the entries bore before, and nobody bears now."""
    rows = LogEntry.objects.filter(
        content_type=ContentType.objects.get_for_model(Person),
        object_pk__in=[str(person.pk) for person in people],
    )
    borne = {str(each).casefold() for each in everybody}
    for name in rows.values_list("object_repr", flat=True):
        if name.casefold() not in borne:
            yield name
