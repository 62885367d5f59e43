"""Two people of one name told apart, in full and as shop pages show them."""

from __future__ import annotations

from collections import defaultdict
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
    @property
    def is_active(self) -> bool: ...


def told_apart(people: Iterable[Named]) -> dict[int, str]:
    """Full names by id; where two are alike, with the day they joined, or else the number.

    The date of birth would tell people apart too, but not everybody may see it.
    """
    rows = list(people)
    marks = _marks(rows)
    return {row.pk: f"{_full(row)}{marks[row.pk]}" for row in rows}


def short_names(people: Iterable[Named]) -> dict[int, str]:
    """First name and initial by id, with as many letters more as tell two apart.

    Two of one full name have the mark of ``told_apart`` behind the initial.
    """
    rows = list(people)
    marks = _marks(rows)
    lasts: defaultdict[tuple[str, bool], set[str]] = defaultdict(set)
    for row in rows:
        first, last = row.first_name.casefold(), row.last_name.casefold()
        lasts[first, False].add(last)
        # Who left the list takes nobody's initial away, and has as many letters as it takes.
        if row.is_active:
            lasts[first, True].add(last)
    return {
        row.pk: _shortened(row, lasts[row.first_name.casefold(), row.is_active]) + marks[row.pk]
        for row in rows
    }


def _marks(rows: Iterable[Named]) -> dict[int, str]:
    """What stands behind a name that is somebody else's too, by id; empty for the others."""
    alike: defaultdict[str, list[Named]] = defaultdict(list)
    for row in rows:
        # Told apart by more than a capital: nobody hears one when called across the shop.
        alike[_full(row).casefold()].append(row)
    return {row.pk: _mark(row, those) for those in alike.values() for row in those}


def _mark(row: Named, alike: Iterable[Named]) -> str:
    # Who left the list, or was one with another entry, takes nobody's plain name away.
    others = [each for each in alike if each.pk != row.pk and (each.is_active or not row.is_active)]
    if not others:
        return ""
    is_enough = all(each.joined_on != row.joined_on for each in alike if each.pk != row.pk)
    return f" (joined {spell_day(row.joined_on)})" if is_enough else f" (no. {row.pk})"


def _full(person: Named) -> str:
    return f"{person.first_name} {person.last_name}".strip()


def _shortened(person: Named, lasts: Iterable[str]) -> str:
    """The name with as much of the last name as no other of that first name begins with."""
    own = person.last_name.casefold()
    letters = 1
    while letters < len(own) and any(
        last != own and last.startswith(own[:letters]) for last in lasts
    ):
        letters += 1
    # All of the name is there by now; a full stop behind it would look cut off.
    if letters >= len(own):
        return _full(person)
    return f"{person.first_name} {person.last_name[:letters]}."
