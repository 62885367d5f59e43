"""Erase a person: what means them goes, what safety or match asks for stays under a number."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime

from django.db import transaction
from django.db.models import Max
from django.utils import timezone

from workshops.access.actions import AccessRefused, close_account
from workshops.access.models import User
from workshops.access.sessions import forget_in_sessions
from workshops.access.throttle import let_in_again
from workshops.access.trail import forget_in_trail
from workshops.club.queries import rules_of
from workshops.common.models import Upload
from workshops.common.sheets import SheetRefused, read_sheet
from workshops.people.barring import spell_user
from workshops.people.cover import signers_at
from workshops.people.erasing import ASKS, SCRUBS, Erasing, erased_name
from workshops.people.gate import register_on
from workshops.people.known_by import entries_of, in_the_clubs_contact, is_erased, known_by
from workshops.people.models import Erasure, Guardianship, Look, Person
from workshops.people.moving import relations
from workshops.people.refusals import EraseRefused
from workshops.people.remains import RELATIONS, Remains
from workshops.people.stops import hold_register, stand_back
from workshops.people.sweeping import sweep
from workshops.people.telling import titled


@dataclass(frozen=True)
class Line:
    """So many rows of one kind, what becomes of them, and why."""

    words: str
    count: int
    remains: Remains
    why: str


@dataclass(frozen=True)
class Erased:
    """What an erase did, or would do."""

    number: int
    name: str
    numbers: tuple[int, ...]
    lines: tuple[Line, ...]
    # Rows under a seal that go on naming the person, by kind.
    sealed: dict[str, int]


def stops_to_erase(person: Person, *, by: User | None, at: datetime) -> list[str]:
    """What stands in the way, in sentences that say what to do; empty when nothing does."""
    return list(_stops(person, by, at))


def preview_erase(person: Person, *, by: User | None, at: datetime | None = None) -> Erased:
    """What ``erase`` would do: done, read, and taken back.

    Raises
    ------
    EraseRefused
        As ``erase``.
    """
    with transaction.atomic():
        done = erase(person=person, by=by, at=at)
        transaction.set_rollback(True)
    return done


@transaction.atomic
def erase(*, person: Person, by: User | None, at: datetime | None = None) -> Erased:
    """Everything that means the person goes, in the entries joined with this one too.

    Raises
    ------
    EraseRefused
        While the person is in the building, placed tonight, on a watch, the only one who
        signs others at a station, or the one who asks; its sentences say what to do.
    """
    at = at or timezone.now()
    hold_register(person.shop)
    person = Person.objects.select_related("shop", "user").get(pk=person.pk)
    if stops := stops_to_erase(person, by=by, at=at):
        raise EraseRefused(stops)
    people = entries_of(person)
    lines = tuple(_lines(people))
    erasing = Erasing(person.shop, people, known_by(people), at)
    # From the top floor down: who stands above reads rows that go on a floor below.
    for scrub in reversed(SCRUBS):
        scrub(erasing)
    _take_rows(erasing)
    _throw_away_lists(erasing)
    for each in people:
        _empty(each, by, at)
        _close_account(each)
    for email in erasing.emails:
        let_in_again(email)  # typed in the place of a name, it is kept with the tries
    forget_in_sessions(erasing.shop, [each.user_id for each in people], erasing.is_in)
    forget_in_trail(Person, erasing.numbers, erasing.name)
    sealed = sweep(erasing)
    stand_back(Person.objects.select_related("shop").get(pk=person.pk))
    return Erased(person.pk, erasing.name, erasing.numbers, lines, sealed)


def _stops(person: Person, by: User | None, at: datetime) -> Iterator[str]:
    if is_erased(person):
        yield "This entry was erased before."
        return
    if person.merged_into_id:
        yield f"This entry was joined with no. {person.merged_into_id}: erase that one."
        return
    if by is not None and by.pk == person.user_id:
        yield "Nobody erases themselves: ask another coordinator."
    for ask in ASKS:
        yield from ask(person, at)
    yield from _signs_alone(person, at)
    yield from _relied_on(person, at)
    if in_the_clubs_contact(person.shop, known_by([person])):
        yield (
            f"The club itself is reached through {person.first_name}: have whoever keeps the "
            "site write down another contact of the club first."
        )


def _signs_alone(person: Person, at: datetime) -> Iterator[str]:
    """The stations at which nobody else may sign others."""
    register = register_on(person.shop, at.astimezone(person.shop.zone).date())
    for pk, station in register.stations.items():
        if station.is_in_use and signers_at(register, pk) == [person.pk]:
            yield (
                f"Nobody but {person.first_name} may sign others off at {station.name}: make "
                "somebody else an authoriser there first."
            )


def _relied_on(person: Person, at: datetime) -> Iterator[str]:
    """Those on the list who have nobody else: to call, or to answer for them (three queries)."""
    words = [word.casefold() for word in known_by(entries_of(person))]
    others = Person.objects.filter(shop=person.shop).active().exclude(pk=person.pk)
    for each in others.exclude(emergency_contact=""):
        if any(word in each.emergency_contact.casefold() for word in words):
            yield f"In an emergency they are called for {each}: write somebody else there first."
    adult_age, today = rules_of(person.shop).adult_age, at.astimezone(person.shop.zone).date()
    wards = others.filter(guardianships__guardian=person).exclude(
        guardianships__in=Guardianship.objects.exclude(guardian=person).filter(
            guardian__is_active=True
        )
    )
    for ward in wards:
        if not ward.is_adult_on(today, adult_age):
            yield f"Nobody else answers for {ward}: name another guardian first."


def _lines(people: tuple[Person, ...]) -> Iterator[Line]:
    """How many rows point to the person, and what becomes of them: one query a kind."""
    for name, relation in relations():
        if name not in RELATIONS:
            raise EraseRefused([f"Nobody has said what becomes of {name}: nothing was erased."])
        remains, why = RELATIONS[name]
        rows = relation.related_model._base_manager.filter(**{f"{relation.field.name}__in": people})
        if count := rows.distinct().count():
            words = titled(name, relation.related_model)
            yield Line(words, count, remains, why)


def _take_rows(erasing: Erasing) -> None:
    """Rows that point to the person and of which nothing is kept, at all or of days to come."""
    for name, relation in relations():
        rows = relation.related_model._base_manager.filter(
            **{f"{relation.field.name}__in": erasing.numbers}
        )
        if RELATIONS[name][0] is Remains.GOES:
            rows.delete()
        elif RELATIONS[name][0] is Remains.TO_COME:
            rows.filter(night__date__gt=erasing.today).delete()


def _empty(person: Person, by: User | None, at: datetime) -> None:
    """The entry with a number and nothing else. By its own query: the trail keeps none of it."""
    adult = person.is_adult_on(_last_here(person, at), rules_of(person.shop).adult_age)
    Person.objects.filter(pk=person.pk).update(
        first_name=erased_name(person.pk), last_name="", email="", phone="", born_on=None,
        is_adult_declared=adult, no_dust=False, seated_only=False, no_heavy=False,
        emergency_contact="", note="", is_active=False, user=None, changed_by=by, changed_at=at,
    )  # fmt: skip
    person.likes.clear()
    Erasure.objects.create(
        shop=person.shop, person=person, erased_at=at, user=by,
        erased_by=(spell_user(by) or "the shop")[:80],
    )  # fmt: skip


def _last_here(person: Person, at: datetime) -> date:
    """The last night on which the person was in the building; without any, the day of the erase.

    Whether somebody was a child when they were here is kept, and not that they grew up since.
    """
    # The roll lies in a slice above; it is read here through the person's own rows.
    found = Person.objects.filter(pk=person.pk).aggregate(last=Max("roll__night__date"))
    return found["last"] or at.astimezone(person.shop.zone).date()


def _close_account(person: Person) -> None:
    user = person.user
    if user is None:
        return
    # What they looked at and erased is told on, under the number.
    Look.objects.filter(user=user).update(seen_by=erased_name(person.pk))
    Erasure.objects.filter(user=user).update(erased_by=erased_name(person.pk))
    try:
        close_account(user=user, shop=person.shop, name=("Erased person", str(person.pk)))
    except AccessRefused as refused:
        raise EraseRefused([str(refused)]) from refused


def _throw_away_lists(erasing: Erasing) -> None:
    """Files that wait to be looked at and name the person: they would bring the name back."""
    named = [row.pk for row in Upload.objects.filter(shop=erasing.shop) if _names(row, erasing)]
    Upload.objects.filter(pk__in=named).delete()


def _names(upload: Upload, erasing: Erasing) -> bool:
    data = bytes(upload.data)
    try:
        cells = [cell for row in read_sheet(data) for cell in row.cells]
        # A first and a last name stand in two columns.
        text = " ".join(cells)
    except SheetRefused:
        text = data.decode(errors="replace")
    return erasing.is_in(text)
