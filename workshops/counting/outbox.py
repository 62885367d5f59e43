"""What a tablet sends: its taps in order, and what it tells of itself; read strictly.

The body is JSON, an object with these keys and no other:

``tablet``
    Its key, a UUID made once; ``name`` what people call it.
``now``
    The time by its own clock: a clock that goes wrong does not move the night.
``told``
    The number of its latest tap; ``waiting`` the pieces not in this batch, by operation.
``taps``
    At most ``MOST`` of them, each with ``number``, ``key``, ``at``, and one of: ``operation``
    with ``good``, ``hold``, ``scrap``; ``takes_back``, the key of an earlier tap; neither, for
    a tap that was taken back before it was ever sent.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

from workshops.counting.refusals import Misread

MOST = 200  # taps in one batch
LARGEST = 9_999  # pieces in one tap
NAME = 40
TAP = {"number", "key", "at", "operation", "good", "hold", "scrap", "takes_back"}
BATCH = {"tablet", "name", "now", "told", "waiting", "taps"}


@dataclass(frozen=True, slots=True)
class SentTap:
    """One tap as it came, its time set right by the tablet's clock."""

    number: int
    key: UUID
    at: datetime
    operation: int | None = None
    good: int = 0
    hold: int = 0
    scrap: int = 0
    takes_back: UUID | None = None

    @property
    def pieces(self) -> int:
        """All of them, good or not."""
        return self.good + self.hold + self.scrap


@dataclass(frozen=True, slots=True)
class Batch:
    """Taps of one tablet and one night, each key once, in the order in which they came."""

    tablet: UUID
    name: str
    told: int
    waiting: dict[str, int]
    taps: tuple[SentTap, ...]


def read_batch(sent: Any, now: datetime) -> Batch:
    """The batch as sent at ``now``.

    Raises
    ------
    Misread
        Naming the key that is wrong.
    """
    _only(sent, BATCH, "the batch")
    ahead = _time(sent, "now") - now
    taps = sent.get("taps")
    if not isinstance(taps, list) or len(taps) > MOST:
        raise Misread(f"taps: at most {MOST} in a list.")
    read = (_tap(each, ahead, now) for each in taps)
    return Batch(
        tablet=_key(sent, "tablet"),
        name=_name(sent),
        told=_count(sent, "told", 2**31 - 1),
        waiting=_waiting(sent.get("waiting")),
        taps=tuple({tap.key: tap for tap in read}.values()),
    )


def _tap(sent: Any, ahead: timedelta, now: datetime) -> SentTap:
    _only(sent, TAP, "a tap")
    # Never later than now: the clock of a tablet may have been set while it counted.
    at = min(_time(sent, "at") - ahead, now)
    number = _count(sent, "number", 2**31 - 1)
    key = _key(sent, "key")
    if sent.get("takes_back"):
        return SentTap(number, key, at, takes_back=_key(sent, "takes_back"))
    if sent.get("operation") is None:
        return SentTap(number, key, at)
    operation = _count(sent, "operation", 2**53)
    good, hold, scrap = (_count(sent, name, LARGEST) for name in ("good", "hold", "scrap"))
    return SentTap(number, key, at, operation, good, hold, scrap)


def _only(sent: Any, known: set[str], what: str) -> None:
    if not isinstance(sent, Mapping):
        raise Misread(f"{what}: an object.")
    if unknown := set(sent) - known:
        raise Misread(f"{what}: {sorted(unknown)[0]} is not one of its keys.")


def _count(sent: Mapping[str, Any], name: str, largest: int) -> int:
    value = sent.get(name, 0)
    # True is a whole number to Python, and none to a counter.
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value <= largest:
        raise Misread(f"{name}: a whole number from 0 to {largest}.")
    return value


def _key(sent: Mapping[str, Any], name: str) -> UUID:
    try:
        return UUID(sent.get(name))
    except (ValueError, TypeError, AttributeError) as wrong:
        raise Misread(f"{name}: a UUID.") from wrong


def _time(sent: Mapping[str, Any], name: str) -> datetime:
    try:
        found = datetime.fromisoformat(sent.get(name, ""))
    except (ValueError, TypeError) as wrong:
        raise Misread(f"{name}: a time.") from wrong
    if found.tzinfo is None:
        raise Misread(f"{name}: a time with its zone.")
    return found


def _name(sent: Mapping[str, Any]) -> str:
    name = sent.get("name") or ""
    if not isinstance(name, str):
        raise Misread("name: words.")
    return " ".join(name.split())[:NAME]


def _waiting(sent: Any) -> dict[str, int]:
    if sent is None:
        return {}
    if not isinstance(sent, Mapping) or len(sent) > 100:
        raise Misread("waiting: pieces by operation.")
    return {str(key)[:12]: _count(sent, key, 2**31 - 1) for key in sent}
