"""Two people of one name told apart, in full and as shop pages show them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from workshops.people.days import spell_day
from workshops.people.models import Person


def told_apart(people: Iterable[Person]) -> dict[int, str]:
    """Full names by id; where two are alike, with the day they joined, or else the number.

    The date of birth would tell people apart too, but not everybody may see it.
    """
    rows = list(people)
    alike = Counter(str(person).casefold() for person in rows)
    joined = Counter((str(person).casefold(), person.joined_on) for person in rows)
    names: dict[int, str] = {}
    for person in rows:
        name, key = str(person), str(person).casefold()
        if alike[key] > 1:
            is_enough = joined[key, person.joined_on] == 1
            mark = f"joined {spell_day(person.joined_on)}" if is_enough else f"no. {person.pk}"
            name = f"{name} ({mark})"
        names[person.pk] = name
    return names


def short_names(people: Iterable[Person]) -> dict[int, str]:
    """First name and initial by id, with as many letters more as tell two apart."""
    rows = list(people)
    full = told_apart(rows)
    names = {person.pk: person.short_name for person in rows}
    letters = 1
    while clashes := _clashing(names):
        letters += 1
        for person in rows:
            if person.pk in clashes:
                names[person.pk] = _shortened(person, letters, full[person.pk])
    return names


def _clashing(names: dict[int, str]) -> set[int]:
    seen = Counter(name.casefold() for name in names.values())
    return {pk for pk, name in names.items() if seen[name.casefold()] > 1}


def _shortened(person: Person, letters: int, full: str) -> str:
    if letters >= len(person.last_name):
        return full
    return f"{person.first_name} {person.last_name[:letters]}."
