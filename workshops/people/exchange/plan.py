"""What becomes of each row of a list of people, and how all of them are written."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from django.core.exceptions import ValidationError

from workshops.access.models import User
from workshops.common.columns import Reading, TypedRow
from workshops.common.fates import Change, Fate, RowFate, counts_of, print_of, refused
from workshops.people import actions
from workshops.people.alike import full_name
from workshops.people.exchange.columns import LIMITS
from workshops.people.exchange.known import Known, agrees, told_of
from workshops.people.exchange.paper import ToEnter, ToSign, sign_offs, waiver
from workshops.people.models import Look, Person

FIELDS = {
    "first_name": "First name", "last_name": "Last name", "email": "E-mail", "phone": "Phone",
    "born_on": "Born on", "is_adult_declared": "Of age", "emergency_contact": "Emergency contact",
    "joined_on": "Joined on", "note": "Note",
}  # fmt: skip
# Which private facts a change shows of somebody on the list.
SHOWS = {
    "Phone": Look.Kept.PHONE, "E-mail": Look.Kept.EMAIL, "Born on": Look.Kept.BORN_ON,
    "Of age": Look.Kept.BORN_ON, "Emergency contact": Look.Kept.EMERGENCY,
    "Limits": Look.Kept.LIMITS, "Note": Look.Kept.NOTE,
}  # fmt: skip
WORDS = {
    Fate.REFUSED: "cannot be", Fate.ASKS: "who is it?", Fate.NEW: "new on the list",
    Fate.CHANGED: "changes", Fate.SAME: "stays as it is",
}  # fmt: skip
SOMEBODY_ELSE = "new"


@dataclass(frozen=True, slots=True)
class Wanted:
    """One row that is to be written."""

    number: int
    person: Person | None
    given: Mapping[str, Any]
    signed: Sequence[ToEnter]
    waiver: ToSign | None


class Asks(ValueError):
    """The row may mean somebody on the list; the answer is a person's."""

    def __init__(self, like: Sequence[Person]) -> None:
        super().__init__("Is it somebody on the list already? Choose.")
        self.like = like


@dataclass
class PeoplePlan:
    """The fates of all rows; ``write`` is called with the register held."""

    file: str
    fates: list[RowFate] = field(default_factory=list)
    wanted: list[Wanted] = field(default_factory=list)
    looks: dict[int, tuple[Person, set[Look.Kept]]] = field(default_factory=dict)

    @property
    def counts(self) -> dict[Fate, int]:
        """How many rows come to each end."""
        return counts_of(self.fates)

    @property
    def can_be_written(self) -> bool:
        """Whether no row is refused or asks, and something is to be done."""
        counts = self.counts
        return not counts[Fate.REFUSED] + counts[Fate.ASKS] and bool(self.wanted)

    @property
    def print(self) -> str:
        """The same for two plans exactly when every row comes to the same end in both."""
        return print_of(self.fates)

    def write(self, known: Known, by: User, at: datetime) -> None:
        """Every row through the same actions as the pages."""
        for each in self.wanted:
            self._write(each, known, by, at)

    def _write(self, row: Wanted, known: Known, by: User, at: datetime) -> None:
        person = row.person
        if person is None:
            person = actions.add_person(shop=known.shop, fields=row.given, by=by, at=at)
        elif row.given:
            person = actions.edit_person(person=person, fields=row.given, by=by, at=at)
        if row.waiver:
            actions.sign_waiver(
                person=person, version=row.waiver.version, on=row.waiver.on,
                valid_until=row.waiver.until, by=by, at=at,
            )  # fmt: skip
        for each in row.signed:
            actions.enter_sign_off(
                person=person, station=each.station, level=each.level, on=each.on,
                valid_until=each.until, evidence=f"list {self.file}, row {row.number}",
                by=by, at=at,
            )  # fmt: skip


def plan(known: Known, reading: Reading, *, file: str, answers: Mapping[str, str]) -> PeoplePlan:
    """The fate of each row against the list as it is. No query beyond ``known``.

    An empty cell leaves what is kept; a cell never takes a fact away, but ``none`` does for
    limits. ``answers`` says of a row's number who is meant: a person's number, or ``new``.
    """
    made = PeoplePlan(file)
    seen: dict[object, int] = {}
    for row in reading.rows:
        called = row.texts.get("first_name", "") + " " + row.texts.get("last_name", "")
        called = called.strip() or "?"
        if row.faults:
            made.fates.append(refused(row.number, called, *row.faults))
            continue
        try:
            person = _meant(row, known, answers.get(str(row.number), ""))
        except Asks as asks:
            made.fates.append(_asking(row, called, asks, known))
            continue
        except ValueError as wrong:
            made.fates.append(refused(row.number, called, str(wrong)))
            continue
        told = told_of(row)
        key = person.pk if person else (full_name(told), told.born_on, told.email.casefold())
        first = seen.setdefault(key, row.number)
        if first != row.number:
            says = f"Row {first} is about the same person, as far as the list tells."
            made.fates.append(refused(row.number, called, says))
            continue
        _fate(made, row, person, called, known=known)
    return made


def _meant(row: TypedRow, known: Known, answer: str) -> Person | None:
    """The person on the list whom the row means, or nobody yet."""
    if number := row.values.get("number"):
        if number not in known.people:
            raise ValueError(f"Nobody here has the number {number}. Leave it empty.")
        return known.people[number]
    if answer == SOMEBODY_ELSE:
        return None
    if answer.isdecimal() and int(answer) in known.people:
        return known.people[int(answer)]
    told = told_of(row)
    fit, others = known.namesakes(told)
    sure = [each for each in fit if agrees(told, each)]
    for found in (sure, fit):
        if len(found) == 1:
            return found[0]
    if fit or others:
        raise Asks([*fit, *others])
    if like := known.like(told):
        raise Asks(like)
    return None


def _asking(row: TypedRow, called: str, asks: Asks, known: Known) -> RowFate:
    choices = [(str(each.pk), known.names[each.pk]) for each in asks.like[:5]]
    return RowFate(
        row.number, Fate.ASKS, called, str(asks),
        choices=(*choices, (SOMEBODY_ELSE, "Somebody else: new on the list")),
    )  # fmt: skip


def _fate(
    made: PeoplePlan, row: TypedRow, person: Person | None, called: str, *, known: Known
) -> None:
    given = _given(row, person)
    found = list(sign_offs(row, person, known))
    signs = waiver(row, person, known)
    faults = [each for each in (*found, signs) if isinstance(each, str)]
    faults += _faults(person, given, known)
    if faults:
        made.fates.append(refused(row.number, called, *faults))
        return
    signed = [each for each in found if isinstance(each, ToEnter)]
    kept = signs if isinstance(signs, ToSign) else None
    changes = (*_changes(person, given), *_added(signed, kept))
    if person is None:
        fate, says = Fate.NEW, ""
    else:
        fate, says = (Fate.CHANGED, "") if changes else (Fate.SAME, "As the list has it.")
        shown = {SHOWS[each.what] for each in changes if each.what in SHOWS}
        if shown:
            made.looks[row.number] = (person, shown)
    name = known.names[person.pk] if person else called
    made.fates.append(RowFate(row.number, fate, name, says, changes))
    if fate is not Fate.SAME:
        made.wanted.append(Wanted(row.number, person, given, signed, kept))


def _given(row: TypedRow, person: Person | None) -> dict[str, Any]:
    """The facts that the row brings and the person does not have yet."""
    given = {name: row.values[name] for name in FIELDS if row.values.get(name) is not None}
    if (told := row.values.get("limits")) is not None:
        given |= {name: name in told for name in LIMITS}
    if person is None:
        return given
    return {
        name: value for name, value in given.items()
        if getattr(person, name) != value and not _is_like(getattr(person, name), value)
    }  # fmt: skip


def _is_like(kept: Any, told: Any) -> bool:
    return isinstance(kept, str) and isinstance(told, str) and kept.casefold() == told.casefold()


def _faults(person: Person | None, given: Mapping[str, Any], known: Known) -> list[str]:
    """What keeps the person from being as the row says, in the words of the model."""
    born = given.get("born_on")
    if born and born > known.today:
        return ["Born on: that day is still to come."]
    now = {name: getattr(person, name) for name in FIELDS} if person else {}
    try:
        Person(shop=known.shop, **{**now, **given}).clean_fields(exclude=["shop", "changed_by"])
    except ValidationError as wrong:
        return [f"{FIELDS.get(n, n)}: {' '.join(s)}" for n, s in wrong.message_dict.items()]
    return []


def _changes(person: Person | None, given: Mapping[str, Any]) -> list[Change]:
    if person is None:
        return []
    found = [
        Change(FIELDS[name], _shown(getattr(person, name)), _shown(value))
        for name, value in given.items() if name in FIELDS
    ]  # fmt: skip
    if set(given) & set(LIMITS):
        before = {name: getattr(person, name) for name in LIMITS}
        after = before | {name: value for name, value in given.items() if name in LIMITS}
        found.append(Change("Limits", spell_limits(before), spell_limits(after)))
    return found


def _added(signed: Sequence[ToEnter], kept: ToSign | None) -> list[Change]:
    rows = [Change(each.station.name, each.before, each.spelled) for each in signed]
    if kept:
        rows.append(Change("Waiver", "", f"{kept.version}, {kept.on} until {kept.until}"))
    return rows


def spell_limits(limits: Mapping[str, bool]) -> str:
    """The limits as a list writes them."""
    return "; ".join(word for name, word in LIMITS.items() if limits[name]) or "none"


def _shown(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "" if value is None else str(value)
