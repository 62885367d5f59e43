"""Two people of one name told apart, in full and as shop pages show them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from datetime import date
from typing import Protocol

from workshops.people.days import spell_day


class Named(Protocol):
    """Somebody with a name: a row, or the facts the gate keeps of a person."""

    @property
    def pk(self) -> int: ...
    @property
    def first_name(self) -> str: ...
    @property
    def last_name(self) -> str: ...
    @property
    def joined_on(self) -> date: ...


def told_apart(people: Iterable[Named]) -> dict[int, str]:
    """Full names by id; where two are alike, with the day they joined, or else the number.

    The date of birth would tell people apart too, but not everybody may see it.
    """
    rows = list(people)
    alike = Counter(_full(person).casefold() for person in rows)
    joined = Counter((_full(person).casefold(), person.joined_on) for person in rows)
    names: dict[int, str] = {}
    for person in rows:
        name, key = _full(person), _full(person).casefold()
        if alike[key] > 1:
            is_enough = joined[key, person.joined_on] == 1
            mark = f"joined {spell_day(person.joined_on)}" if is_enough else f"no. {person.pk}"
            name = f"{name} ({mark})"
        names[person.pk] = name
    return names


def short_names(people: Iterable[Named]) -> dict[int, str]:
    """First name and initial by id, with as many letters more as tell two apart."""
    rows = list(people)
    full = told_apart(rows)
    names = {person.pk: _shortened(person, 1, _full(person)) for person in rows}
    letters = 1
    # Ends: at the latest with full names, which were told apart before.
    while clashes := _clashing(names):
        letters += 1
        for person in rows:
            if person.pk in clashes:
                names[person.pk] = _shortened(person, letters, full[person.pk])
    return names


def _clashing(names: dict[int, str]) -> set[int]:
    # Told apart by more than a capital: nobody hears one when called across the shop.
    seen = Counter(name.casefold() for name in names.values())
    return {pk for pk, name in names.items() if seen[name.casefold()] > 1}


def _full(person: Named) -> str:
    return f"{person.first_name} {person.last_name}".strip()


def _shortened(person: Named, letters: int, full: str) -> str:
    # All of the name is there by now; a full stop behind it would look cut off.
    if letters >= len(person.last_name):
        return full
    return f"{person.first_name} {person.last_name[:letters]}."
