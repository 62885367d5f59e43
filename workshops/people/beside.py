"""What other slices have to say of a person, beside what the register says: a line with a link.

Slices to the right put theirs on when they are loaded; the page of the person shows them all.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from workshops.people.models import Person


@dataclass(frozen=True, slots=True)
class Word:
    """One line about a person, and the page that tells the rest."""

    says: str
    leads_to: str  # the name of an address that takes the shop alone
    link: str


_SAYERS: list[Callable[[Person], Iterable[Word]]] = []


def say_of_a_person(sayer: Callable[[Person], Iterable[Word]]) -> None:
    """Ask the sayer whenever the page of a person is shown."""
    _SAYERS.append(sayer)


def words_about(person: Person) -> list[Word]:
    """Everything said of the person; empty when nobody has a word to say."""
    return [word for sayer in _SAYERS for word in sayer(person)]
