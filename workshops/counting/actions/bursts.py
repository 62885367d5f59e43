"""Taps that are booked as one count: one operation, one tablet, one batch, one minute.

A tap is a piece or ten; sixty of them a station would make sixty entries an hour of a book
that people read. A burst is one entry with all its taps pointing to it, so that each key is
still counted exactly once, and one tap taken back leaves the others of its burst.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from workshops.counting.outbox import SentTap
from workshops.nights.actions.tally import NewCount
from workshops.stations.models import Operation

LONGEST = timedelta(minutes=1)


@dataclass(slots=True)
class Burst:
    """Taps of one operation within a minute of the first."""

    operation: Operation
    taps: list[SentTap]

    @property
    def at(self) -> datetime:
        """When its first tap was made."""
        return self.taps[0].at

    def as_count(self, counted_by: str) -> NewCount:
        """Under the key of its first tap, which no other burst can have."""
        return NewCount(
            operation=self.operation,
            at=self.at,
            good=sum(tap.good for tap in self.taps),
            hold=sum(tap.hold for tap in self.taps),
            scrap=sum(tap.scrap for tap in self.taps),
            counted_by=counted_by,
            client_key=self.taps[0].key,
        )


def bursts_of(taps: Iterable[SentTap], operations: Mapping[int, Operation]) -> list[Burst]:
    """The taps with pieces, gathered; in the order of their first taps."""
    found: list[Burst] = []
    open_now: dict[int, Burst] = {}
    for tap in sorted(taps, key=lambda tap: (tap.at, tap.number)):
        assert tap.operation is not None
        burst = open_now.get(tap.operation)
        if burst is None or tap.at - burst.at > LONGEST:
            burst = open_now[tap.operation] = Burst(operations[tap.operation], [])
            found.append(burst)
        burst.taps.append(tap)
    return found
