"""The times of a night changed: stop earlier, lock up later, other blocks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, time

from django.db import transaction

from workshops.nights.actions.opened import hold
from workshops.nights.clock import minutes, minutes_of, spell
from workshops.nights.models import Block, Night
from workshops.nights.refusals import NightRefused

Stretch = tuple[time, time]


@dataclass(frozen=True, slots=True)
class Retimed:
    """The night with its new times, and how many placings went with blocks that are gone."""

    night: Night
    lost: int


@transaction.atomic
def set_times(
    *, night: Night, doors: time, stop: time, lock_up: time, blocks: Sequence[Stretch], at: datetime
) -> Retimed:
    """Give a night other times. A block that begins as before keeps whoever stands in it.

    Where it now ends otherwise, the board says at once whom a rule stops there; nobody is
    moved for it. Blocks that are over stand as they were.

    Raises
    ------
    NightRefused
        When the night is over, the times are out of order, or a block that is over would change.
    """
    held = hold(night)
    blocks = sorted(blocks)
    _check_order(doors, stop, lock_up, blocks)
    now = minutes_of(at, held)
    rows = list(held.blocks.all())
    _check_behind(rows, blocks, now)
    held.doors, held.stop, held.lock_up = doors, stop, lock_up
    held.changes, held.changed_at = held.changes + 1, at
    held.save(update_fields=["doors", "stop", "lock_up", "changes", "changed_at"])
    return Retimed(held, _retime(held, rows, blocks))


def _check_order(doors: time, stop: time, lock_up: time, blocks: Sequence[Stretch]) -> None:
    if not doors < stop <= lock_up:
        raise NightRefused("Times: the doors open before the stop, and lock-up is not before it.")
    if not blocks:
        raise NightRefused("Blocks: leave at least one stretch of work.")
    reached = doors
    for starts, ends in blocks:
        if not reached <= starts < ends <= stop:
            raise NightRefused(
                f"Blocks: {starts:%H:%M} to {ends:%H:%M} must lie between the doors and the stop, "
                "after the block before it."
            )
        reached = ends


def _check_behind(rows: Sequence[Block], blocks: Sequence[Stretch], now: int) -> None:
    """What is over is a record of who worked where: it is not moved."""
    behind = {(row.starts, row.ends) for row in rows if minutes(row.ends) <= now}
    gone = behind - set(blocks)
    if gone:
        starts, ends = min(gone)
        raise NightRefused(
            f"Blocks: {starts:%H:%M} to {ends:%H:%M} is over at {spell(now)} and stays as it was."
        )


def _retime(night: Night, rows: Sequence[Block], blocks: Sequence[Stretch]) -> int:
    kept = {row.starts: row for row in rows}
    gone = [row for row in rows if row.starts not in {starts for starts, _ in blocks}]
    lost = night.placings.filter(block__in=gone).count()
    Block.objects.filter(pk__in=[row.pk for row in gone]).delete()
    # Out of the way first: the numbers are unlike one another in a night.
    for row in rows:
        if row not in gone:
            Block.objects.filter(pk=row.pk).update(index=row.index + len(rows) + len(blocks))
    for index, (starts, ends) in enumerate(blocks):
        if starts in kept:
            Block.objects.filter(pk=kept[starts].pk).update(index=index, ends=ends)
        else:
            Block.objects.create(night=night, index=index, starts=starts, ends=ends)
    return lost
