"""Steps on the board: kept as they are made, taken back, done again. The rules are asked anew."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime

from django.db import transaction
from django.utils import timezone

from workshops.access.models import User
from workshops.nights.actions.opened import hold
from workshops.nights.changes import Seat, Standing, between, sentence_in, steps_of
from workshops.nights.engine.board import Breach
from workshops.nights.loading import Loaded, load
from workshops.nights.models import Change, Night, Placing, PlacingRun
from workshops.nights.refusals import NightRefused, PlacingRefused
from workshops.nights.weighing import (
    GATE,
    REFUSING,
    breaches_in,
    breaches_with,
    why_by_hand,
)


@dataclass(frozen=True)
class PutBack:
    """A step taken back or done again, and why some stay as they are all the same."""

    change: Change
    left_out: tuple[str, ...] = ()


def keep_step(
    night: Night,
    kind: str,
    before: Standing,
    after: Standing,
    *,
    by: User | None = None,
    at: datetime | None = None,
) -> Change | None:
    """Keep a step that was just made; None where it changed nothing.

    What was taken back before it can no longer be done again.
    """
    was, now = between(before, after)
    if not was.seats and not now.seats and was.plan == now.plan:
        return None
    Change.objects.filter(night=night, undone_at__isnull=False).delete()
    return Change.objects.create(
        night=night, kind=kind, by=by, at=at or timezone.now(),
        before=was.to_json(), after=now.to_json(),
    )  # fmt: skip


@transaction.atomic
def undo_step(*, night: Night, change: int, at: datetime | None = None) -> PutBack:
    """Take the latest step back. Who may not stand there by now stays where they are.

    Raises
    ------
    PlacingRefused
        When the rules let nothing of it be put back.
    NightRefused
        When the night is over, its times were changed since, or that is not the latest step.
    """
    night = hold(night)
    row = steps_of(night).back
    if row is None or row.pk != change:
        raise NightRefused("The board was changed meanwhile: look at it again.")
    done = _put_back(night, row, Standing.from_json(row.after), Standing.from_json(row.before))
    row.undone_at = at or timezone.now()
    row.save(update_fields=["undone_at"])
    return done


@transaction.atomic
def redo_step(*, night: Night, change: int) -> PutBack:
    """Do again what was taken back last; refused as ``undo_step`` refuses."""
    night = hold(night)
    row = steps_of(night).again
    if row is None or row.pk != change:
        raise NightRefused("The board was changed meanwhile: look at it again.")
    done = _put_back(night, row, Standing.from_json(row.before), Standing.from_json(row.after))
    row.undone_at = None
    row.save(update_fields=["undone_at"])
    return done


def _put_back(night: Night, change: Change, came: Standing, wanted: Standing) -> PutBack:
    loaded = load(night)
    touched = set(came.seats) | set(wanted.seats)
    known = {block.pk for block in loaded.blocks}
    if any(block not in known for _, block in touched):
        raise NightRefused("The times of the night were changed since: that cannot be taken back.")
    back = _Back(loaded, touched, _rows(loaded, wanted))
    back.settle()
    if wanted.seats and not back.rows and back.refused:
        raise PlacingRefused(back.refused)
    back.write()
    if wanted.plan != came.plan:
        night.plan = PlacingRun.objects.filter(night=night, pk=wanted.plan or 0).first()
        night.save(update_fields=["plan"])
    told = dict.fromkeys(breach.message for breach in back.refused)
    return PutBack(change, tuple(told))


def _rows(loaded: Loaded, wanted: Standing) -> dict[Seat, Placing]:
    """The placings as they were; of people and stations that are still there."""
    stations = {row.pk: row for row in loaded.stations}
    blocks = {row.pk: row for row in loaded.blocks}
    runs = PlacingRun.objects.in_bulk({row["run"] for row in wanted.seats.values() if row["run"]})
    found = {}
    for seat, kept in wanted.seats.items():
        if kept["station"] not in stations or kept["person"] not in loaded.register.people:
            continue
        run = runs.get(kept["run"])
        row = Placing(
            night=loaded.night, block=blocks[kept["block"]], person_id=kept["person"],
            station=stations[kept["station"]], bench=kept["bench"], role=kept["role"],
            room_id=kept["room"], is_locked=kept["is_locked"], run=run,
        )  # fmt: skip
        row.why = (sentence_in(run, row, row.block.index) or why_by_hand(loaded, row))[:300]
        found[seat] = row
    return found


@dataclass
class _Back:
    """Seats on their way back; whom a rule stops by now is left where they are."""

    loaded: Loaded
    touched: set[Seat]
    rows: dict[Seat, Placing]
    refused: list[Breach] = field(default_factory=list)
    wanted: frozenset[Seat] = frozenset()

    def __post_init__(self) -> None:
        self.wanted = frozenset(self.rows)

    def settle(self) -> None:
        """Leave out one after the other whoever may not stand there now."""
        was = set(breaches_in(self.loaded))
        while True:
            found = breaches_with(self.loaded, self.board())
            stopping = [
                each for each in found if each.rule in REFUSING and (
                    each not in was or each.rule in GATE)
            ]  # fmt: skip
            hit = {seat for each in stopping for seat in self._hit_by(each)}
            if not hit:
                break
            self.refused += [each for each in stopping if any(self._hit_by(each))]
            self.rows = {seat: row for seat, row in self.rows.items() if seat not in hit}
        whole = [each for each in stopping if each not in was and not each.people]
        if whole:
            raise PlacingRefused(whole)

    def board(self) -> list[Placing]:
        """Everything that stands once this is put back."""
        kept = [row for row in self.loaded.placings if not self._gives_way(row)]
        return [*kept, *self.rows.values()]

    def _gives_way(self, row: Placing) -> bool:
        seat = (row.person_id, row.block_id)
        # Left out for a rule: then the person stays where they are now.
        is_left_out = seat in self.wanted and seat not in self.rows
        return seat in self.touched and not is_left_out

    def _hit_by(self, breach: Breach) -> Iterable[Seat]:
        index = {block.pk: each for each, block in enumerate(self.loaded.blocks)}
        return (
            seat
            for seat, row in self.rows.items()
            if (str(row.person_id) in breach.people or self._is_shut(breach, row))
            and breach.block in (None, index[row.block_id])
            and breach.station in (None, str(row.station_id))
        )

    @staticmethod
    def _is_shut(breach: Breach, row: Placing) -> bool:
        return breach.rule == "out_of_service" and breach.station == str(row.station_id)

    def write(self) -> None:
        """Put the rows in the place of those that give way."""
        gone = [row.pk for row in self.loaded.placings if self._gives_way(row)]
        Placing.objects.filter(pk__in=gone).delete()
        Placing.objects.bulk_create(self.rows.values())
