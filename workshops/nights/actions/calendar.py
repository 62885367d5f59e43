"""Nights on the calendar, who means to come, and what the winter wants of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time

from django.db import transaction
from django.utils import timezone

from inventory.places.models import Shop
from workshops.nights.clock import minutes
from workshops.nights.models import Aim, Block, Night, SignUp
from workshops.nights.permit.queries import hot_work_of
from workshops.nights.refusals import NightRefused
from workshops.people.models import Person

BRIEFING = 30  # minutes from the doors to the first block: sign in, brief, place
BREAK = 10
MOST_GUESTS = 8
WHOLE_DAY = 5 * 60  # a day this long gets three stretches and two breaks


@transaction.atomic
def add_night(
    *,
    shop: Shop,
    on: date,
    doors: time,
    stop: time,
    lock_up: time,
    kind: str = Night.Kind.MIXED,
    goal: str = "",
    blocks: Sequence[tuple[time, time]] | None = None,
) -> Night:
    """Put a night on the calendar, with the usual blocks unless others are given.

    Raises
    ------
    NightRefused
        When the day has a night already, or its times are out of order.
    """
    if Night.objects.filter(shop=shop, date=on).exists():
        raise NightRefused(f"Day: there is already a night on {on.day} {on:%B}. Take that one.")
    if not doors < stop <= lock_up:
        raise NightRefused("Times: the doors open before the stop, and lock-up is not before it.")
    stretches = usual_blocks(doors, stop) if blocks is None else list(blocks)
    if not stretches:
        raise NightRefused(f"There is no time to work between {doors:%H:%M} and {stop:%H:%M}.")
    night = Night.objects.create(
        shop=shop, date=on, kind=kind, doors=doors, stop=stop, lock_up=lock_up, goal=goal
    )
    Block.objects.bulk_create(
        Block(night=night, index=index, starts=starts, ends=ends)
        for index, (starts, ends) in enumerate(stretches)
    )
    return night


@dataclass(frozen=True, slots=True)
class Added:
    """The nights put on the calendar, and the days that had one already."""

    nights: tuple[Night, ...]
    taken: tuple[date, ...]


@transaction.atomic
def add_nights(
    *, shop: Shop, days: Sequence[date], doors: time, stop: time, lock_up: time,
    kind: str = Night.Kind.MIXED,
) -> Added:  # fmt: skip
    """Put a night on each of the days; a day that has one keeps it as it is.

    Raises
    ------
    NightRefused
        When the times are out of order; then no night is added.
    """
    taken = set(Night.objects.filter(shop=shop, date__in=days).values_list("date", flat=True))
    nights = tuple(
        add_night(shop=shop, on=day, doors=doors, stop=stop, lock_up=lock_up, kind=kind)
        for day in days
        if day not in taken
    )
    return Added(nights, tuple(sorted(taken)))


def usual_blocks(doors: time, stop: time) -> list[tuple[time, time]]:
    """The stretches between briefing and stop, a break in the middle of each two."""
    start, end = minutes(doors) + BRIEFING, minutes(stop)
    count = 4 if end - start >= WHOLE_DAY else 3
    length = (end - start - BREAK) // count
    if length <= 0:
        return []
    found, at = [], start
    for index in range(count):
        found.append((_time(at), _time(at + length)))
        at += length + (BREAK if index == count // 2 - 1 else 0)
    return found


def _time(minute: int) -> time:
    return time(minute // 60 % 24, minute % 60)


@transaction.atomic
def cancel_night(*, night: Night, reason: str, at: datetime | None = None) -> Night:
    """Cancel a planned night and say why: snow, no heat, no key.

    Raises
    ------
    NightRefused
        When it is over already, people are still in the building, or no reason is given.
    """
    if not reason.strip():
        raise NightRefused("Say why the night is cancelled; those who signed up will ask.")
    if night.status == Night.Status.CLOSED:
        raise NightRefused("That night is over. It cannot be cancelled any more.")
    refuse_while_inside(night)
    if owed := hot_work_of(night).owes:
        raise NightRefused(f"It cannot be called off: {owed}")
    night.status, night.note = Night.Status.CANCELLED, reason.strip()
    night.changes, night.changed_at = night.changes + 1, at or timezone.now()
    night.save(update_fields=["status", "note", "changes", "changed_at"])
    return night


def refuse_while_inside(night: Night) -> None:
    """Refuse to end a night while the roll says that somebody is in the building."""
    inside = [
        line.person.short_name for line in night.roll.filter(out_at=None).select_related("person")
    ]
    if inside:
        raise NightRefused(f"Sign out first who is still on the roll: {', '.join(inside)}")


@dataclass(frozen=True, slots=True)
class Bringing:
    """Whom a person brings along, and what they want to say."""

    guests: int = 0
    guest_names: str = ""
    note: str = ""


@transaction.atomic
def sign_up(
    *,
    night: Night,
    person: Person,
    answer: str,
    at: datetime,
    arrives: time | None = None,
    leaves: time | None = None,
    bringing: Bringing | None = None,
) -> SignUp:
    """Note whether a person means to come; a later answer replaces an earlier one.

    Without ``bringing``, guests and note stay as they were; a no brings nobody.

    Raises
    ------
    NightRefused
        When the night is over or cancelled, the person is of another shop, or would leave
        before arriving, or would bring more guests than a person can.
    """
    if night.status != Night.Status.PLANNED:
        raise NightRefused(f"The night of {night} is {night.get_status_display()}.")
    if person.shop_id != night.shop_id:
        raise NightRefused(f"{person} is not on this shop's list.")
    if (arrives or night.doors) >= (leaves or night.lock_up):
        raise NightRefused(f"Leaves: {person} would leave before arriving. Mend the times.")
    # Two answers sent at once wait for one another here, and the second finds the first.
    Night.objects.select_for_update().get(pk=night.pk)
    row = SignUp.objects.filter(night=night, person=person).first()
    row = row or SignUp(night=night, person=person, changes=0)
    if bringing is not None:
        row.guests, row.guest_names, row.note = _brought(bringing)
    if answer == SignUp.Answer.NO:
        row.guests, row.guest_names = 0, ""
    row.answer, row.arrives, row.leaves, row.answered_at = answer, arrives, leaves, at
    # A calendar that holds the earlier answer takes only one with a higher number.
    row.changes += row.pk is not None
    row.save()
    return row


def _brought(bringing: Bringing) -> tuple[int, str, str]:
    if not 0 <= bringing.guests <= MOST_GUESTS:
        raise NightRefused(
            f"Guests: up to {MOST_GUESTS} come with one person. Ask the coordinator to sign up"
            " a larger group."
        )
    return bringing.guests, bringing.guest_names.strip(), bringing.note.strip()


@transaction.atomic
def set_aims(*, shop: Shop, wanted: Mapping[int, int]) -> None:
    """Say how many sets of each kind (by item id) the winter still wants; replaces the old."""
    Aim.objects.filter(shop=shop).exclude(item__in=wanted).delete()
    for item, count in wanted.items():
        Aim.objects.update_or_create(shop=shop, item_id=item, defaults={"wanted": count})
