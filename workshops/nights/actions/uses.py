"""Who worked where: told to the register, so that sign-offs in use do not lapse without it."""

from __future__ import annotations

from collections.abc import Iterator

from workshops.nights.models import Night, Placing, Tally
from workshops.nights.standing import answer_for
from workshops.nights.worked import minutes_there, stays_of
from workshops.people.actions import Used, hold_register, record_uses
from workshops.people.gate import register_on


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
    counted = Tally.objects.standing().filter(night=night)
    found = set(counted.values_list("operation__station", flat=True))
    watched = Placing.objects.filter(
        night=night, role=Placing.Role.WATCHES, night__permit__watch_ended_at__isnull=False
    )
    return found | set(watched.values_list("station", flat=True))


def _uses(night: Night, stations: set[int]) -> Iterator[Used]:
    stays = stays_of(night)
    rows = Placing.objects.filter(night=night, station__in=stations, person__in=stays)
    placings = list(rows.select_related("block"))
    register = register_on(night.shop, night.date) if placings else None
    for row in placings:
        there = minutes_there(row.block, stays[row.person_id])
        if register is None or not there or not answer_for(register, row).ok:
            continue
        yield Used(row.person_id, row.station_id, there, row.role == Placing.Role.LEARNS)
