"""What a check stands for: how many pieces were counted since the one before, and who made them."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import datetime

from django.db.models import Q, QuerySet, Sum

from workshops.nights.clock import minutes, minutes_of
from workshops.nights.models import Night, Placing, Tally
from workshops.nights.queries import names_in
from workshops.quality.models import Check
from workshops.stations.models import Operation

# Two lines of checks run beside each other: a weld that looks well may still be cold.
LOOKS = (Check.Kind.FIRST, Check.Kind.NTH)
BREAKS = (Check.Kind.BREAK,)


@dataclass(frozen=True, slots=True)
class Batch:
    """The good pieces counted since the check before; ``back_to`` is none for the first ever."""

    count: int
    back_to: Check | None
    last_good: Check | None

    @property
    def since(self) -> datetime | None:
        """When the batch began, where a check began it."""
        return self.back_to.at if self.back_to else None


def line_of(kind: str) -> Collection[str]:
    """The kinds of check that follow one another with this one."""
    return BREAKS if kind == Check.Kind.BREAK else LOOKS


def standing(operation: Operation, kinds: Collection[str]) -> QuerySet[Check]:
    """The checks of a line that nobody corrected, the latest first."""
    return Check.objects.filter(operation=operation, kind__in=kinds, corrected_by=None)


def batch_of(
    night: Night, operation: Operation, kind: str, *, leaving_out: Check | None = None
) -> Batch:
    """What a check made now would stand for. 3 queries.

    From the check before, good or bad: what a bad one stood for is held back already. Where
    there was none, ever, tonight's pieces alone: nobody holds back a whole winter's rack.
    """
    checks = standing(operation, line_of(kind))
    if leaving_out is not None:
        checks = checks.exclude(pk=leaving_out.pk)
    last = checks.first()
    counted = Tally.objects.standing().filter(operation=operation)
    begun = Q(counted_at__gt=last.at) if last else Q(night=night)
    count = counted.filter(begun).aggregate(good=Sum("good"))["good"] or 0
    return Batch(count, last, checks.filter(is_good=True).first())


def who_made(night: Night, operation: Operation, since: datetime | None, at: datetime) -> list[str]:
    """Short names of those placed at the station from one moment to another. 2 queries.

    From placings alone: it says who stood there, not whose hand slipped.
    """
    start = minutes_of(since, night) if since else 0
    rows = Placing.objects.filter(night=night, station=operation.station_id)
    rows = rows.exclude(role=Placing.Role.WATCHES).select_related("block").order_by("block__index")
    there = [row.person_id for row in rows if _is_during(row, start, minutes_of(at, night))]
    names = names_in(night.shop) if there else {}
    return [names[person] for person in dict.fromkeys(there)]


def _is_during(row: Placing, start: int, end: int) -> bool:
    return minutes(row.block.starts) < end and minutes(row.block.ends) > start


def counted(checks: Iterable[Check]) -> tuple[int, int]:
    """Pieces looked at, and how many of them were bad."""
    rows = list(checks)
    return sum(row.looked_at for row in rows), sum(not row.is_good for row in rows)
