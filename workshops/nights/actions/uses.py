"""Who worked where: told to the register, so that sign-offs in use do not lapse without it."""

from __future__ import annotations

from collections.abc import Iterator

from workshops.nights.clock import minutes, minutes_of
from workshops.nights.models import Block, Night, Placing, RollLine, Tally
from workshops.nights.standing import answer_for
from workshops.people.actions import Used, hold_register, record_uses
from workshops.people.gate import register_on

Stay = tuple[int, int]


def book_uses(*, night: Night) -> None:
    """Tell the register who worked where on the night, and how long; replaces what it was told.

    Somebody used a station when they were placed there while on the roll, and something was
    counted there or the end of the fire watch was signed. Whom the gate stops is left out:
    work against a stop renews no sign-off.
    """
    hold_register(night.shop)
    stations = _worked(night)
    uses = list(_uses(night, stations)) if stations else []
    record_uses(shop=night.shop, day=night.date, uses=uses)


def _worked(night: Night) -> set[int]:
    """The stations at which something was counted, or the watch was kept to its end."""
    counted = Tally.objects.filter(night=night, undoes=None, undone_by=None)
    found = set(counted.values_list("operation__station", flat=True))
    watched = Placing.objects.filter(
        night=night, role=Placing.Role.WATCHES, night__permit__watch_ended_at__isnull=False
    )
    return found | set(watched.values_list("station", flat=True))


def _uses(night: Night, stations: set[int]) -> Iterator[Used]:
    stays = _stays(night)
    rows = Placing.objects.filter(night=night, station__in=stations, person__in=stays)
    placings = list(rows.select_related("block"))
    register = register_on(night.shop, night.date) if placings else None
    for row in placings:
        there = sum(_shared(row.block, stay) for stay in stays[row.person_id])
        if register is None or not there or not answer_for(register, row).ok:
            continue
        yield Used(row.person_id, row.station_id, there, row.role == Placing.Role.LEARNS)


def _stays(night: Night) -> dict[int, list[Stay]]:
    """Person -> from and to on the roll, in minutes of the night; still in: to lock-up."""
    found: dict[int, list[Stay]] = {}
    for line in RollLine.objects.filter(night=night):
        out = minutes_of(line.out_at, night) if line.out_at else minutes(night.lock_up)
        found.setdefault(line.person_id, []).append((minutes_of(line.in_at, night), out))
    return found


def _shared(block: Block, stay: Stay) -> int:
    return max(0, min(minutes(block.ends), stay[1]) - max(minutes(block.starts), stay[0]))
