"""A tablet shares its taps: each key counts once, in whatever order and however often it comes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from django.db import transaction

from inventory.ledger.actions import PostingRefused
from workshops.access.models import User
from workshops.counting.actions.bursts import bursts_of
from workshops.counting.actions.settling import settle
from workshops.counting.actions.tablets import met
from workshops.counting.models import PaperLine, Press, Tablet
from workshops.counting.outbox import Batch, SentTap
from workshops.counting.refusals import CountingRefused
from workshops.nights.actions.recount import recount
from workshops.nights.actions.tally import NewCount, undo_tally
from workshops.nights.models import Night, Tally
from workshops.nights.refusals import NightRefused
from workshops.stations.models import Operation

TAKEN_BACK = "taken back on the tablet"


@dataclass(frozen=True, slots=True)
class Shared:
    """What came of a batch: the tablet, and what is not in the book, by the key of its tap."""

    tablet: Tablet
    refused: dict[UUID, str]


@transaction.atomic
def share(*, night: Night, batch: Batch, by: User | None, at: datetime) -> Shared:
    """Take a batch of taps: what is new is booked, what was shared before is left alone.

    No tap is turned away: one that cannot be booked (its operation is gone, the night is
    cancelled, the pieces it takes back are used) is kept with the reason, for a person to
    settle. A tap taken back before it came is kept and never booked.
    """
    # One batch of a night after the other: a batch sent twice at once finds its own taps.
    Night.objects.select_for_update().get(pk=night.pk)
    tablet = met(night.shop, batch, at=at)
    known = set(_known(night, batch.taps))
    fresh = [tap for tap in batch.taps if tap.key not in known]
    if not fresh:
        return Shared(tablet, {})
    sharing = _Sharing(night, tablet, by, at)
    sharing.take(fresh)
    return Shared(tablet, sharing.refused)


@transaction.atomic
def take_back(*, tally: Tally, by: User | None, at: datetime) -> None:
    """Take a whole count back, with all its taps, and settle what sheets add beside it.

    Raises
    ------
    NightRefused
        When it takes a count back itself, or its pieces have been used since.
    CountingRefused
        When a paper sheet added it: what was decided there is changed there.
    """
    line = PaperLine.objects.filter(tally=tally).select_related("sheet").first()
    if line is not None:
        raise CountingRefused(f"{line.sheet} added that: decide otherwise there.".capitalize())
    undo_tally(tally=tally, by=by, at=at)
    settle(night=tally.night, operations=[tally.operation_id], by=by, at=at)


def _known(night: Night, taps: Iterable[SentTap]) -> Iterable[UUID]:
    keys = [tap.key for tap in taps]
    # A tablet that only tells that it is there costs no query here.
    if not keys:
        return []
    return Press.objects.filter(shop=night.shop, key__in=keys).values_list("key", flat=True)


class _Sharing:
    """One batch on its way into the book."""

    def __init__(self, night: Night, tablet: Tablet, by: User | None, at: datetime) -> None:
        self.night, self.tablet, self.by, self.at = night, tablet, by, at
        self.refused: dict[UUID, str] = {}
        self.operations: dict[int, Operation] = {}

    def take(self, fresh: list[SentTap]) -> None:
        """Book the fresh taps and keep them all."""
        backs = [tap for tap in fresh if tap.takes_back]
        counts = [tap for tap in fresh if tap.pieces]
        self.operations = self._operations(counts)
        booked = self._book(counts, self._gone(counts, backs))
        Press.objects.bulk_create(self._row(tap, booked.get(tap.key)) for tap in fresh)
        touched = set(self.operations) | self._take_back(backs)
        settle(night=self.night, operations=touched, by=self.by, at=self.at)

    def _operations(self, counts: list[SentTap]) -> dict[int, Operation]:
        keys = {tap.operation for tap in counts if tap.operation}
        rows = Operation.objects.filter(shop=self.night.shop).select_related("recipe__output")
        return rows.in_bulk(keys) if keys else {}

    def _gone(self, counts: list[SentTap], backs: list[SentTap]) -> set[UUID]:
        """Which of the counts are taken back, in this batch or by a tap that came before them."""
        keys = [tap.key for tap in counts]
        earlier = Press.objects.filter(shop=self.night.shop, takes_back__in=keys)
        here = {tap.takes_back for tap in backs if tap.takes_back}
        if not keys:
            return here
        return here | {row.takes_back for row in earlier.only("takes_back") if row.takes_back}

    def _book(self, counts: list[SentTap], gone: set[UUID]) -> dict[UUID, Tally]:
        """The row that counts each tap; taps of nothing, gone or not to be booked have none."""
        wanted = [tap for tap in counts if tap.key not in gone]
        for tap in wanted:
            if tap.operation not in self.operations:
                self.refused[tap.key] = "That operation is not one of this shop any more."
        bursts = bursts_of((tap for tap in wanted if tap.key not in self.refused), self.operations)
        if not bursts:
            return {}
        try:
            rows = recount(
                night=self.night, by=self.by, at=self.at,
                counts=[burst.as_count(self.tablet.name) for burst in bursts],
            )  # fmt: skip
        except (NightRefused, PostingRefused) as refused:
            taps = [tap for burst in bursts for tap in burst.taps]
            self.refused |= {tap.key: str(refused) for tap in taps}
            return {}
        pairs = zip(bursts, rows, strict=True)
        return {tap.key: row for burst, row in pairs for tap in burst.taps}

    def _row(self, tap: SentTap, tally: Tally | None) -> Press:
        return Press(
            shop=self.night.shop, tablet=self.tablet, night=self.night, number=tap.number,
            key=tap.key, good=tap.good, hold=tap.hold, scrap=tap.scrap,
            operation=self.operations.get(tap.operation or 0),
            takes_back=tap.takes_back, tapped_at=tap.at, shared_at=self.at, by=self.by,
            tally=tally, refused=self.refused.get(tap.key, ""),
        )  # fmt: skip

    def _take_back(self, backs: list[SentTap]) -> set[int]:
        """Take back taps that were shared before; gives the operations touched."""
        keys = {tap.takes_back: tap.key for tap in backs if tap.takes_back}
        if not keys:
            return set()
        found = Press.objects.filter(shop=self.night.shop, key__in=keys, tally__isnull=False)
        by_tally: dict[Tally, list[Press]] = {}
        for row in found.select_related("tally__night", "tally__operation__recipe__output"):
            assert row.tally is not None
            by_tally.setdefault(row.tally, []).append(row)
        for tally, taps in by_tally.items():
            self._take_from(tally, taps, keys)
        return {tally.operation_id for tally in by_tally}

    def _take_from(self, tally: Tally, taps: list[Press], keys: dict[UUID, UUID]) -> None:
        """Take taps out of the burst that one row counts, and count the others of it anew."""
        gone = {tap.pk for tap in taps}
        stay = [tap for tap in tally.taps.all() if tap.pk not in gone]
        rest = NewCount(
            operation=tally.operation, at=tally.counted_at, counted_by=tally.counted_by,
            good=sum(tap.good for tap in stay), hold=sum(tap.hold for tap in stay),
            scrap=sum(tap.scrap for tap in stay),
        )  # fmt: skip
        try:
            rows = recount(
                night=tally.night, counts=[rest] if rest.pieces else [], taken=[tally],
                by=self.by, at=self.at, reason=TAKEN_BACK,
            )  # fmt: skip
        except (NightRefused, PostingRefused) as refused:
            told = {keys[tap.key]: str(refused) for tap in taps}
            self.refused |= told
            for key, why in told.items():
                Press.objects.filter(shop=self.night.shop, key=key).update(refused=why[:300])
            return
        Press.objects.filter(pk__in=gone).update(tally=None)
        if rows:
            Press.objects.filter(pk__in=[tap.pk for tap in stay]).update(tally=rows[0])
