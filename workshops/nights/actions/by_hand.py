"""Moving people by hand: one person, one station, a block or the rest of the night."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from django.db import transaction

from workshops.access.models import User
from workshops.nights.actions.opened import check_open, hold
from workshops.nights.actions.steps import keep_step
from workshops.nights.changes import standing, version_of
from workshops.nights.engine.board import Breach
from workshops.nights.loading import Loaded, load
from workshops.nights.models import Block, Change, Night, Placing
from workshops.nights.refusals import BoardChanged, NightRefused, PlacingRefused
from workshops.nights.remedies import remedy
from workshops.nights.weighing import REFUSING, Weighed, breaches_in, weigh, why_by_hand
from workshops.people.models import Person
from workshops.stations.models import Station


@transaction.atomic
def place(
    *,
    night: Night,
    block: Block,
    person: Person,
    station: Station,
    is_locked: bool = True,
    to_end: bool = False,
    seen: str = "",
    by: User | None = None,
    at: datetime | None = None,
) -> tuple[Breach, ...]:
    """Put a person at a station for a block, and give every breach the plan has now.

    With ``to_end`` also for every block after it; refused in one, they move in none. ``seen``
    is the version of the board that the move was made on.

    Raises
    ------
    PlacingRefused
        When the move itself breaks a rule that no plan may break.
    BoardChanged
        When the board is not the one that was seen.
    NightRefused
        When the night is over, or something belongs to another night or shop.
    """
    check_open(night)
    _check_belongs(night, block=block, person=person, station=station)
    hold(night)
    loaded = load(night)
    _check_seen(loaded, seen)
    blocks = blocks_from(loaded, block, to_end=to_end)
    weighed = weigh(loaded, person=person.pk, station=station, blocks=blocks)
    if weighed.stopping:
        raise PlacingRefused(weighed.stopping, _remedy(loaded, weighed))
    before = _seats(loaded, person, blocks)
    Placing.objects.filter(block__in=blocks, person=person).delete()
    for row in weighed.rows:
        row.is_locked, row.why = is_locked, why_by_hand(loaded, row)[:300]
    Placing.objects.bulk_create(weighed.rows)
    keep_step(night, Change.Kind.MOVE, standing(before), standing(weighed.rows), by=by, at=at)
    return weighed.found


def blocks_from(loaded: Loaded, block: Block, *, to_end: bool) -> list[Block]:
    """The block, or with ``to_end`` it and all after it."""
    return [each for each in loaded.blocks if each.pk == block.pk or
            (to_end and each.index > block.index)]  # fmt: skip


def _remedy(loaded: Loaded, weighed: Weighed) -> str:
    """What would make it so: of the first rule in the way for which something would."""
    told = (remedy(loaded, breach, weighed.rows[0]) for breach in weighed.stopping)
    return next((each for each in told if each), "")


def _seats(loaded: Loaded, person: Person, blocks: Sequence[Block]) -> list[Placing]:
    touched = {block.pk for block in blocks}
    return [
        row for row in loaded.placings if row.person_id == person.pk and row.block_id in touched
    ]


@transaction.atomic
def unplace(
    *,
    night: Night,
    block: Block,
    person: Person,
    to_end: bool = False,
    seen: str = "",
    by: User | None = None,
    at: datetime | None = None,
) -> tuple[Breach, ...]:
    """Take a person out of a block, and give every breach the plan has now.

    Raises
    ------
    BoardChanged
        When the board is not the one that was seen.
    NightRefused
        When the night is over.
    """
    check_open(night)
    hold(night)
    loaded = load(night)
    _check_seen(loaded, seen)
    before = _seats(loaded, person, blocks_from(loaded, block, to_end=to_end))
    Placing.objects.filter(pk__in=[row.pk for row in before]).delete()
    keep_step(night, Change.Kind.OUT, standing(before), standing(()), by=by, at=at)
    return breaches_in(load(night))


@transaction.atomic
def set_lock(
    *, placing: Placing, is_locked: bool, by: User | None = None, at: datetime | None = None
) -> Placing:
    """Fix a placing for the next plan, or let it go.

    Raises
    ------
    NightRefused
        When the night is over.
    PlacingRefused
        When what is to be fixed breaks a rule that no plan may break.
    """
    hold(placing.night)
    if not Placing.objects.filter(pk=placing.pk).exists():
        raise NightRefused("That placing was changed meanwhile: look at the board again.")
    if is_locked:
        _check_lawful(placing)
    before = standing([placing])
    placing.is_locked = is_locked
    placing.save(update_fields=["is_locked"])
    kind = Change.Kind.LOCK if is_locked else Change.Kind.FREE
    keep_step(placing.night, kind, before, standing([placing]), by=by, at=at)
    return placing


def _check_lawful(placing: Placing) -> None:
    loaded = load(placing.night)
    index = [block.pk for block in loaded.blocks].index(placing.block_id)
    found = [
        breach
        for breach in breaches_in(loaded)
        if breach.rule in REFUSING
        and breach.block in (None, index)
        # A closed station is nobody's own breach, and stops all who stand there.
        and (
            str(placing.person_id) in breach.people
            or (breach.rule == "out_of_service" and breach.station == str(placing.station_id))
        )
    ]
    if found:
        raise PlacingRefused(found)


def _check_seen(loaded: Loaded, seen: str) -> None:
    if seen and seen != version_of(loaded.placings):
        raise BoardChanged("Somebody changed the board meanwhile. This is how it stands now.")


def _check_belongs(night: Night, *, block: Block, person: Person, station: Station) -> None:
    if block.night_id != night.pk:
        raise NightRefused("That block belongs to another night.")
    if person.shop_id != night.shop_id or station.shop_id != night.shop_id:
        raise NightRefused("Person and station must belong to this shop.")
    if not station.is_in_use:
        raise NightRefused(f"{station} is not in use.")
