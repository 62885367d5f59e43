"""The roll: who is in the building. It is the evacuation list, so it refuses nobody.

A word from the door may come in late, from a tablet that had no network: it says when it was,
and carries a key, so that it counts once. Of two words about one person the later one stands.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from django.db import transaction

from workshops.nights.actions.opened import check_open, hold
from workshops.nights.door import Caution, Collector, cautions_for
from workshops.nights.models import Night, Placing, RollLine, SignUp
from workshops.nights.refusals import NightRefused
from workshops.people.gate import Register, register_on
from workshops.people.models import Person


@dataclass(frozen=True, slots=True)
class SignedIn:
    """A stay on the roll, and what to see to before this person works."""

    line: RollLine
    cautions: tuple[str, ...]


@transaction.atomic
def sign_in(
    *, night: Night, person: Person, at: datetime, client_key: UUID | None = None
) -> SignedIn:
    """Put a person on the roll. Somebody already in stays in from the first time.

    Whoever is in the building must stand on the roll, waiver or not; a missing waiver, a
    missing guardian, a bar, and each station at which they are placed against the gate come
    back as cautions, and the gate keeps them from working.

    Raises
    ------
    NightRefused
        When the night is over or cancelled, or the person is of another shop.
    """
    return sign_in_all(night=night, people=[person], at=at, client_key=client_key)[0]


@transaction.atomic
def sign_in_all(
    *, night: Night, people: Iterable[Person], at: datetime, client_key: UUID | None = None
) -> list[SignedIn]:
    """Put several people on the roll at once, a whole group with one tap.

    Raises
    ------
    NightRefused
        As ``sign_in``; then nobody is put on it.
    """
    check_open(night)
    rows = list(people)
    for person in rows:
        if person.shop_id != night.shop_id:
            raise NightRefused(f"{person} is not on this shop's list.")
    # A bar that is being set at this moment is told at the door and not missed.
    hold(night)
    lines = [_stay_from(night, person, at, client_key) for person in rows]
    for person in rows:
        SignUp.objects.get_or_create(
            night=night, person=person, defaults={"answer": SignUp.Answer.YES, "answered_at": at}
        )
    told = _cautions(night, [person.pk for person in rows], register_on(night.shop, night.date))
    return [SignedIn(line, tuple(each.text for each in told[line.person_id])) for line in lines]


def _stay_from(night: Night, person: Person, at: datetime, key: UUID | None) -> RollLine:
    """The stay that the word "in at" is about: a new one, or the one it falls in."""
    stays = list(RollLine.objects.filter(night=night, person=person).order_by("in_at"))
    again = next((row for row in stays if key and row.in_key == key), None)
    if again is not None:
        return again
    # Out later than this word says in: the word came late, and the later one stands.
    over = next((row for row in reversed(stays) if row.out_at and row.out_at > at), None)
    stay = next((row for row in stays if row.out_at is None), over)
    if stay is None:
        return RollLine.objects.create(night=night, person=person, in_at=at, in_key=key)
    begins = min(stay.in_at, at)
    overlaps = any(row.out_at and row.pk != stay.pk and row.out_at > begins for row in stays)
    if not overlaps:
        stay.in_at = begins
    stay.seen_at = max(stay.seen_at or stay.in_at, at)
    stay.save(update_fields=["in_at", "seen_at"])
    return stay


def _cautions(
    night: Night, people: Iterable[int], register: Register
) -> dict[int, tuple[Caution, ...]]:
    rows = Placing.objects.filter(night=night, person__in=people)
    placed: dict[int, list[Placing]] = {person: [] for person in people}
    for row in rows:
        placed[row.person_id].append(row)
    inside = set(RollLine.objects.filter(night=night, out_at=None).values_list("person", flat=True))
    return {
        person: cautions_for(register, register.people[person], at, inside)
        for person, at in placed.items()
    }


@transaction.atomic
def sign_out(
    *,
    night: Night,
    person: Person,
    at: datetime,
    collector: Collector | None = None,
    client_key: UUID | None = None,
) -> RollLine:
    """Take a person off the roll; of a minor, keep who collected them.

    Sent again with its key, it is the same stay. A guessed end gives way to a told one.

    Raises
    ------
    NightRefused
        When the person is not in the building, or would be out before in.
    """
    Night.objects.select_for_update().get(pk=night.pk)
    stays = list(RollLine.objects.filter(night=night, person=person).order_by("in_at"))
    again = next((row for row in stays if client_key and row.out_key == client_key), None)
    if again is not None:
        return again
    line = _stay_at(stays, at, is_late=client_key is not None)
    if line is None:
        raise NightRefused(f"{person} is not on the roll now.")
    if at < line.in_at:
        came = line.in_at.astimezone(night.shop.zone)
        raise NightRefused(f"{person} came in at {came:%H:%M}; the time out is earlier.")
    if line.out_at is None and line.seen_at and line.seen_at > at:
        # Seen here after that: out then, and in again, though nobody wrote the second in.
        came, line.seen_at = line.seen_at, None
        _end(line, at, collector, client_key)
        RollLine.objects.create(night=night, person=person, in_at=came)
        return line
    if line.out_at is None or line.out_is_guessed:
        _end(line, at, collector, client_key)
    return line


def _stay_at(stays: list[RollLine], at: datetime, *, is_late: bool) -> RollLine | None:
    """The stay that the word "out at" is about: the one still open, else one that it mends."""
    is_open = next((row for row in stays if row.out_at is None), None)
    if is_open is not None:
        return is_open
    # Somebody else saw them go meanwhile: a late word is no fault of the tablet that kept it.
    mended = [row for row in stays if row.in_at <= at and (row.out_is_guessed or is_late)]
    return mended[-1] if mended else None


def _end(line: RollLine, at: datetime, collector: Collector | None, key: UUID | None) -> None:
    line.out_at, line.out_is_guessed, line.out_key = at, False, key
    if collector is not None:
        line.collected_by, line.collected_word = collector.person, collector.word.strip()[:80]
    line.save()
