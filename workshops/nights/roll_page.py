"""What the roll shows: who is in and what to see to, who is still to come, who went home."""

from __future__ import annotations

import unicodedata
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime

from workshops.nights.clock import minutes, minutes_of, moment
from workshops.nights.coming import Coming, coming_to
from workshops.nights.door import Caution, cautions_for
from workshops.nights.models import AlarmHand, Group, Night, Placing, RollLine, SignUp
from workshops.nights.queries import roll_of
from workshops.people.gate import Register, register_on
from workshops.people.models import Guardianship
from workshops.people.names import short_names, told_apart

# Letters that carry no accent to strip, as they are typed on a tablet without them.
SPELT = str.maketrans({"ø": "o", "đ": "d", "ł": "l", "ß": "ss", "æ": "ae", "œ": "oe", "þ": "th"})


def folded(name: str) -> str:
    """A name as it is searched: small letters without accents, so that Zoé is found by "zoe"."""
    plain = unicodedata.normalize("NFKD", name.casefold().translate(SPELT))
    return "".join(letter for letter in plain if not unicodedata.combining(letter))


def is_found(query: str, name: str) -> bool:
    """Whether each word of the query begins some part of the name."""
    parts = folded(name).replace("-", " ").split()
    return all(any(part.startswith(word) for part in parts) for word in folded(query).split())


@dataclass(frozen=True, slots=True)
class MayCollect:
    """Somebody who may take a minor home."""

    person_id: int
    name: str
    is_in: bool


@dataclass(frozen=True, slots=True)
class Inside:
    """One person in the building."""

    line: RollLine
    name: str
    station: str
    is_minor: bool
    cautions: tuple[Caution, ...] = ()
    collectors: tuple[MayCollect, ...] = ()
    wants_a_hand: bool = False

    @property
    def todos(self) -> set[str]:
        """What can be done about the cautions, now."""
        return {each.todo.value for each in self.cautions}


@dataclass(frozen=True, slots=True)
class Gone:
    """Somebody who was here and is not any more: their last stay, and the minutes of all."""

    line: RollLine
    name: str
    minutes: int
    is_guessed: bool


@dataclass(frozen=True, slots=True)
class Found:
    """Somebody of the list, as the search shows them."""

    person_id: int
    name: str
    search: str


@dataclass(frozen=True, slots=True)
class GroupAtDoor:
    """A group of the night, with how many of it are in."""

    group: Group
    size: int
    inside: int


@dataclass(frozen=True)
class RollPage:
    """Everything the roll shows."""

    night: Night
    inside: list[Inside]
    expected: list[Coming]
    gone: list[Gone]
    groups: list[GroupAtDoor]
    people: list[Found] = field(repr=False, default_factory=list)
    is_after_stop: bool = False

    def found(self, query: str) -> list[Found]:
        """Those whose name the query begins; nobody for an empty one."""
        return [each for each in self.people if is_found(query, each.search)] if query else []

    @property
    def for_search(self) -> list[tuple[int, str, str]]:
        """Everybody of the list for the tablet's own search: id, name, name as searched."""
        return [(each.person_id, each.name, each.search) for each in self.people]

    @property
    def inside_ids(self) -> set[int]:
        """The ids of those in the building."""
        return {each.line.person_id for each in self.inside}


def roll_page(night: Night, now: datetime) -> RollPage:
    """The roll of a night at a moment. 16 queries for any size."""
    register = register_on(night.shop, night.date)
    names = short_names(register.people.values())
    lines = list(roll_of(night))
    here = [line for line in lines if line.out_at is None]
    return RollPage(
        night=night,
        inside=sorted(_inside(night, register, names, here, now), key=lambda each: each.name),
        expected=_expected(night, names),
        gone=_gone(lines, names, now),
        groups=_groups(night, {line.person_id for line in here}),
        people=_people(register),
        is_after_stop=now >= moment(night, night.stop),
    )


def _inside(
    night: Night, register: Register, names: Mapping[int, str], here: list[RollLine], now: datetime
) -> list[Inside]:
    placed = placings_by_person(night)
    ids = {line.person_id for line in here}
    collectors = _collectors(ids, names)
    hands = set(AlarmHand.objects.filter(person__in=ids).values_list("person", flat=True))
    found = []
    for line in here:
        facts = register.people[line.person_id]
        rows = placed[line.person_id]
        found.append(
            Inside(
                line=line,
                name=names[line.person_id],
                station=station_now(rows, night, now),
                is_minor=not facts.is_adult,
                cautions=cautions_for(register, facts, rows, ids),
                collectors=() if facts.is_adult else collectors.get(line.person_id, ()),
                wants_a_hand=line.person_id in hands,
            )
        )
    return found


def placings_by_person(night: Night) -> defaultdict[int, list[Placing]]:
    """Person -> where they are placed tonight, with station and block. 1 query."""
    found: defaultdict[int, list[Placing]] = defaultdict(list)
    for row in Placing.objects.filter(night=night).select_related("station", "block"):
        found[row.person_id].append(row)
    return found


def station_now(rows: Iterable[Placing], night: Night, now: datetime) -> str:
    """The station of the block that runs at the moment; empty in a break or without a place."""
    minute = minutes_of(now, night)
    for row in rows:
        if minutes(row.block.starts) <= minute < minutes(row.block.ends):
            return row.station.name
    return ""


def _collectors(here: set[int], names: Mapping[int, str]) -> dict[int, tuple[MayCollect, ...]]:
    rows = Guardianship.objects.filter(minor__in=here, may_collect=True).order_by("pk")
    found: dict[int, tuple[MayCollect, ...]] = {}
    for minor, guardian in rows.values_list("minor", "guardian"):
        one = MayCollect(guardian, names[guardian], guardian in here)
        found[minor] = (*found.get(minor, ()), one)
    return found


def _expected(night: Night, names: Mapping[int, str]) -> list[Coming]:
    coming = [each for each in coming_to(night) if each.in_at is None]
    # Who said no may come all the same, and is found by name.
    said = [each for each in coming if each.answer != SignUp.Answer.NO]
    return [replace(each, short_name=names[each.person_id]) for each in said]


def _gone(lines: list[RollLine], names: Mapping[int, str], now: datetime) -> list[Gone]:
    stays: dict[int, list[RollLine]] = {}
    for line in lines:
        stays.setdefault(line.person_id, []).append(line)
    found = [
        Gone(
            line=rows[-1],
            name=names[person],
            minutes=minutes_stayed(rows, now),
            is_guessed=any(row.out_is_guessed for row in rows),
        )
        for person, rows in stays.items()
        if rows[-1].out_at is not None
    ]
    return sorted(found, key=lambda each: each.line.out_at or now, reverse=True)


def minutes_stayed(stays: Iterable[RollLine], now: datetime) -> int:
    """Whole minutes in the building over several stays; one still open counts until now."""
    seconds = sum(((row.out_at or now) - row.in_at).total_seconds() for row in stays)
    return max(0, round(seconds / 60))


def _groups(night: Night, here: set[int]) -> list[GroupAtDoor]:
    rows = night.groups.prefetch_related("members", "leaders").order_by("added_at")
    found = []
    for group in rows:
        ids = {person.pk for person in (*group.members.all(), *group.leaders.all())}
        found.append(GroupAtDoor(group, len(ids), len(ids & here)))
    return found


def _people(register: Register) -> list[Found]:
    listed = [facts for facts in register.people.values() if facts.is_active]
    # Found by the whole name that somebody types; shown in short on the tablet at the door.
    names, shown = told_apart(listed), short_names(listed)
    found = [Found(facts.pk, shown[facts.pk], folded(names[facts.pk])) for facts in listed]
    return sorted(found, key=lambda each: each.search)
