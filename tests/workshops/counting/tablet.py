"""A tablet in Python: the rules of ``outbox.js`` once more, so that many can be tried quickly.

The script itself is tried in Chromium, on the same cases (``tests/browser``).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any
from uuid import UUID, uuid4

from django.utils import timezone

Post = Callable[[dict[str, Any]], Any]


@dataclass
class Tap:
    """One press, as the tablet keeps it."""

    number: int
    key: UUID
    at: datetime
    operation: int | None = None
    good: int = 0
    hold: int = 0
    scrap: int = 0
    takes_back: UUID | None = None
    is_shared: bool = False
    is_tried: bool = False
    is_back: bool = False

    def sent(self) -> dict[str, Any]:
        """As it stands in a batch."""
        told = {"number": self.number, "key": str(self.key), "at": self.at.isoformat()}
        if self.takes_back:
            return told | {"takes_back": str(self.takes_back)}
        if self.operation is None:
            return told
        counted = {"good": self.good, "hold": self.hold, "scrap": self.scrap}
        return told | counted | {"operation": self.operation}


@dataclass
class SimulatedTablet:
    """Taps in order; ``post`` takes a batch and gives the server's answer, or None."""

    name: str
    post: Post
    key: UUID = field(default_factory=uuid4)
    taps: list[Tap] = field(default_factory=list)

    @property
    def waiting(self) -> list[Tap]:
        """What the server has not answered for."""
        return [tap for tap in self.taps if not tap.is_shared]

    def tap(self, operation: int, at: datetime | None = None, **counted: int) -> Tap:
        """Press a button."""
        at = at or timezone.now()
        tap = Tap(len(self.taps) + 1, uuid4(), at, operation, **counted)
        self.taps.append(tap)
        return tap

    def take_back(self, tap: Tap) -> None:
        """Take a press back: in place when it was never sent, else by another one."""
        tap.is_back = True
        if not tap.is_shared and not tap.is_tried:
            tap.operation, tap.good, tap.hold, tap.scrap = None, 0, 0, 0
            return
        self.taps.append(Tap(len(self.taps) + 1, uuid4(), tap.at, takes_back=tap.key))

    def batch(self, taps: list[Tap] | None = None) -> dict[str, Any]:
        """What it sends: all that waits, unless told."""
        taps = self.waiting if taps is None else taps
        for tap in taps:
            tap.is_tried = True
        return {
            "tablet": str(self.key), "name": self.name, "now": timezone.now().isoformat(),
            "told": len(self.taps), "waiting": {}, "taps": [tap.sent() for tap in taps],
        }  # fmt: skip

    def share(self) -> Any:
        """Send all that waits and hear the answer."""
        return self.hear(self.post(self.batch()))

    def hear(self, answer: Any) -> Any:
        """Believe the answer; without one everything waits on."""
        for tap in self.taps if answer else []:
            if str(tap.key) in answer["shared"]:
                tap.is_shared = True
        return answer
