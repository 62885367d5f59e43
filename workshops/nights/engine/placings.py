"""Who stands where and when: the pieces that a problem, a plan and the rules share."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Role(Enum):
    """What somebody does at a station."""

    WORKS = "works"
    LEADS = "leads"  # works, with at least one learner at the same bench
    LEARNS = "learns"  # beside somebody who may lead
    WATCHES = "watches"  # the fire watch

    @property
    def is_learning(self) -> bool:
        """Whether a lead must stand at the same bench."""
        return self is Role.LEARNS


@dataclass(frozen=True, slots=True)
class Placing:
    """One person at one bench (1 is the first) of one station in one block (0 is the first)."""

    person: str
    block: int
    station: str
    bench: int = 1
    role: Role = Role.WORKS


@dataclass(frozen=True, slots=True)
class Watching:
    """One stretch of the fire watch in one room: whoever watches in a block.

    ``start`` and ``end`` are minutes after midnight. A stretch runs on through the break
    before the next block while the watch is needed, and the one of the last block runs on
    to the end of the watch: whoever has it then stays.
    """

    person: str
    room: str
    block: int
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Lock:
    """A placing fixed by hand. Role none: as the sign-off allows. ``WATCHES``: the fire watch,
    with ``station`` the id of the watch station."""

    person: str
    block: int
    station: str
    role: Role | None = None


@dataclass(frozen=True, slots=True, order=True)
class Beside:
    """A learner and the lead beside whom they are to stand, at one station, whenever both do."""

    learner: str
    lead: str
    station: str
