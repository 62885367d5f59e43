"""Two people change places for the rest of the night: both move, or neither."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction

from workshops.access.models import User
from workshops.nights.actions.opened import check_open, hold
from workshops.nights.actions.steps import keep_step
from workshops.nights.changes import standing
from workshops.nights.clock import minutes, minutes_of
from workshops.nights.loading import load
from workshops.nights.models import Change, Night, Placing
from workshops.nights.refusals import NightRefused, PlacingRefused
from workshops.nights.weighing import weigh_swap, why_by_hand
from workshops.people.models import Person


@transaction.atomic
def change_places(
    *, night: Night, one: Person, other: Person, by: User | None, at: datetime
) -> list[Placing]:
    """Let two change places from now on, wherever both stand where they do now.

    Raises
    ------
    PlacingRefused
        When a rule that no plan may break stops one of them; then neither moves.
    NightRefused
        When the night is over, or one of them has no station to give.
    """
    check_open(night)
    hold(night)
    loaded = load(night)
    now = minutes_of(at, night)
    blocks = [block for block in loaded.blocks if minutes(block.ends) > now]
    seats = {row.person_id: row for row in loaded.placings
             if blocks and row.block_id == blocks[0].pk}  # fmt: skip
    first, second = seats.get(one.pk), seats.get(other.pk)
    if first is None or second is None or first.station_id == second.station_id:
        raise NightRefused("They do not stand at two stations now: look at the board again.")
    if Placing.Role.WATCHES in (first.role, second.role):
        raise NightRefused("Hand the fire watch over on the permit, by name and time.")
    weighed = weigh_swap(loaded, first, second, blocks)
    if weighed.stopping:
        raise PlacingRefused(weighed.stopping)
    new = [row for row in weighed.rows if row.pk is None]
    moved = {(row.person_id, row.block_id) for row in new}
    before = [row for row in loaded.placings if (row.person_id, row.block_id) in moved]
    Placing.objects.filter(pk__in=[row.pk for row in before]).delete()
    for row in new:
        row.why = why_by_hand(loaded, row)[:300]
    made = Placing.objects.bulk_create(new)
    keep_step(night, Change.Kind.MOVE, standing(before), standing(made), by=by, at=at)
    return made
