"""The fire watch by name and time: turns without a gap, rounds, its end, the second look."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction
from django.utils import timezone

from workshops.nights.actions.opened import hold
from workshops.nights.models import HotWorkPermit, Night, Tally
from workshops.nights.permit.models import WatchNote, WatchTurn
from workshops.nights.permit.queries import HotWork, hot_work_of
from workshops.nights.permit.watching import check_may_watch
from workshops.nights.refusals import NightRefused
from workshops.people.gate import may
from workshops.people.models import Person
from workshops.stations.models import Station


@transaction.atomic
def take_watch(*, permit: HotWorkPermit, watcher: Person, at: datetime) -> WatchTurn:
    """Somebody signs on to the fire watch; whoever had it may leave from that moment, not before.

    Raises
    ------
    NightRefused
        When the night is over, they have it already, the gate says no, or they have something
        else to do.
    """
    held = hold(permit.night)
    now = WatchTurn.objects.filter(permit=permit, until_at=None).select_related("person").first()
    if now and now.person_id == watcher.pk:
        raise NightRefused(f"{watcher} keeps the watch already.")
    check_may_watch(held, watcher, at)
    if now:
        _end_turn(now, at, f"{watcher} took over")
    turn = WatchTurn.objects.create(permit=permit, person=watcher, from_at=at)
    HotWorkPermit.objects.filter(pk=permit.pk).update(watcher=watcher)
    return turn


def _end_turn(turn: WatchTurn, at: datetime, why: str) -> None:
    turn.until_at, turn.why_ended = max(at, turn.from_at), why
    turn.save(update_fields=["until_at", "why_ended"])


@transaction.atomic
def note_round(*, permit: HotWorkPermit, at: datetime, signed_by: str, words: str) -> WatchNote:
    """Write down a round of the watch: where somebody looked, and what they found.

    Raises
    ------
    NightRefused
        When the night is over, or nobody is named.
    """
    hold(permit.night)
    name = _named(signed_by, "A round is written down by name.")
    return WatchNote.objects.create(
        permit=permit, kind=WatchNote.Kind.ROUND, at=at, signed_by=name, words=words.strip()
    )


@transaction.atomic
def end_watch(*, permit: HotWorkPermit, at: datetime, signed_by: str) -> HotWorkPermit:
    """Sign the end of the fire watch.

    Raises
    ------
    NightRefused
        When it is signed already, before the last spark was told, before the watch has lasted
        as long as the permit says, while nobody keeps it, or without a name.
    """
    found, row = _held(permit)
    if found.is_signed:
        raise NightRefused(f"The end of the watch is signed already, by {row.watch_signed_by}.")
    name = _named(signed_by, "The fire watch signs the end of the watch by name.")
    if found.turn is None:
        raise NightRefused("Nobody keeps the fire watch: somebody takes it first, then it begins.")
    if found.watch_until is None and sparks_flew(found.night):
        raise NightRefused("Hot work was tallied: write down first when the last spark was.")
    if found.watch_until and at < found.watch_until:
        local = found.watch_until.astimezone(found.night.shop.zone)
        raise NightRefused(f"The watch lasts until {local:%H:%M}. Sign it then.")
    words = "" if found.watch_until else "no spark was struck"
    _note(row, WatchNote.Kind.END, at, name, words)
    _end_turn(found.turn, at, "the end was signed")
    # Without a spark there is no watch to owe, and none may follow the signature unseen.
    row.watch_ended_at, row.watch_signed_by, row.is_last_called = at, name, True
    row.save(update_fields=["watch_ended_at", "watch_signed_by", "is_last_called"])
    return row


@transaction.atomic
def look_again(*, permit: HotWorkPermit, at: datetime, signed_by: str) -> HotWorkPermit:
    """Sign the second look that the permit orders after the watch.

    Raises
    ------
    NightRefused
        When none is ordered, it is signed, the watch is not, it is too early, or nobody is named.
    """
    found, row = _held(permit)
    if not row.second_look_minutes:
        raise NightRefused("This permit orders no second look.")
    if row.looked_again_at is not None:
        raise NightRefused(f"The second look is signed already, by {row.looked_again_by}.")
    if not found.is_signed:
        raise NightRefused("Sign the end of the watch first.")
    due = found.second_look_from
    if due and at < due:
        local = due.astimezone(found.night.shop.zone)
        raise NightRefused(f"The second look is due at {local:%H:%M}. Sign it then.")
    name = _named(signed_by, "The second look is signed by name.")
    _note(row, WatchNote.Kind.SECOND, at, name, "")
    row.looked_again_at, row.looked_again_by = at, name
    row.save(update_fields=["looked_again_at", "looked_again_by"])
    return row


def _held(permit: HotWorkPermit) -> tuple[HotWork, HotWorkPermit]:
    # Read again with the night held: a spark told at this moment is seen, or waits for this.
    found = hot_work_of(hold(permit.night))
    assert found.permit is not None  # nothing takes a permit away
    return found, found.permit


def _named(name: str, says: str) -> str:
    if not name.strip():
        raise NightRefused(says)
    return name.strip()


def _note(permit: HotWorkPermit, kind: str, at: datetime, name: str, words: str) -> None:
    WatchNote.objects.create(permit=permit, kind=kind, at=at, signed_by=name, words=words)


def stand_down(person: Person) -> None:
    """End the watch of somebody whom the register stops from now on: then nobody watches.

    Called with the register held, in the transaction that stopped them.
    """
    rows = WatchTurn.objects.filter(
        person=person, until_at=None, permit__night__status=Night.Status.PLANNED
    ).select_related("permit__night__shop")
    for turn in rows:
        night = turn.permit.night
        station = Station.objects.filter(shop=night.shop, kind=Station.Kind.FIRE_WATCH).first()
        answer = may(person, station, night.date, doing="watches") if station else None
        if answer is None or not answer.ok:
            why = answer.reasons[0].text if answer and answer.reasons else "stopped"
            _end_turn(turn, timezone.now(), why[:120])


def sparks_flew(night: Night) -> bool:
    """Whether hot work was tallied. One query."""
    counted = Tally.objects.standing().filter(night=night)
    return counted.filter(operation__station__is_spark=True).exists()
