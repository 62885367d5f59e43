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
    """One stretch of the fire watch in one room.

    ``block`` none: the stretch after the last block, up to the end of the watch. ``start``
    and ``end`` are minutes after midnight; a stretch of a block runs up to the next block,
    so that nobody is unwatched in the break.
    """

    person: str
    room: str
    block: int | None
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
