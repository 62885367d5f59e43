"""The list of people as rows that can come in again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from inventory.places.models import Shop
from workshops.common.sheets import Cell
from workshops.people.exchange.columns import LIMITS, STATION, columns, spelled
from workshops.people.exchange.known import Known
from workshops.people.exchange.plan import spell_limits
from workshops.people.models import Person


def rows_out(shop: Shop, *, is_private: bool) -> tuple[list[Person], Iterator[Sequence[Cell]]]:
    """Whoever is on the list, and their rows under the headings. At most 9 queries.

    Without ``is_private`` the columns of what is private are not there at all.
    """
    known = Known(shop)
    people = [row for row in known.people.values() if row.is_active]
    names = [(each.name, each.heading) for each in
             columns(shop, known.stations.values(), is_private=is_private)]  # fmt: skip
    rows = ([_cell(person, name, known) for name, _ in names] for person in people)
    return people, iter([[heading for _, heading in names], *rows])


def template_rows(shop: Shop) -> Iterator[Sequence[Cell]]:
    """The headings and one example."""
    made = columns(shop, Known(shop).stations.values())
    return iter([[each.heading for each in made], [each.example for each in made]])


def _cell(person: Person, name: str, known: Known) -> Cell:
    if name == "number":
        return person.pk
    if name == "limits":
        return spell_limits({each: getattr(person, each) for each in LIMITS})
    if name.startswith("waiver"):
        return _waiver(person, name, known)
    if name.startswith(STATION):
        rows = known.sign_offs.get((person.pk, int(name.removeprefix(STATION))), [])
        # The latest one only, and nothing where a review ended it.
        if not rows or rows[0][1]:
            return ""
        return spelled(rows[0][0].level, rows[0][0].signed_on, rows[0][0].valid_until)
    value: Any = getattr(person, name)
    return ("yes" if value else "no") if isinstance(value, bool) else value


def _waiver(person: Person, name: str, known: Known) -> Cell:
    rows = known.waivers.get(person.pk, [])
    if not rows:
        return ""
    last = max(rows, key=lambda row: (row.valid_until, row.pk))
    if name == "waiver":
        return last.version
    return last.signed_on if name == "waiver_on" else last.valid_until
