"""Random streams by name, so that a change in one place leaves every other draw alone.

Each stream belongs to one seed, one batch of winters and one named thing: the same person
on the same date draws the same luck whatever else is in the problem, in whatever order,
and on however many threads. What-ifs on one seed therefore differ only by what was changed.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum
from zlib import crc32

import numpy as np


class Step(IntEnum):
    """The random steps; the numbers are part of every stream and must not change."""

    TURNOUT = 1  # how likely a person comes, this winter
    COMES = 2  # whether the person comes, one night
    MOOD = 3  # the whole turnout, one night
    LOST_SHARE = 4  # how likely nights are lost, this winter
    LOST = 5  # whether one night is lost
    RATE = 6  # how fast an operation goes, this winter
    NIGHT_RATE = 7  # the same, one night
    SCRAP = 8  # the scrapped share of an operation, this winter
    LATE = 9  # whether a delivery is late
    ICE = 10  # when the ice goes


@dataclass(frozen=True, slots=True)
class Streams:
    """The streams of one batch of ``size`` winters."""

    seed: int
    batch: int
    size: int

    def of(self, step: Step, *names: str) -> np.random.Generator:
        """The generator that belongs to this step of these names."""
        key = (self.batch, int(step), *(crc32(name.encode()) for name in names))
        return np.random.Generator(
            np.random.SFC64(np.random.SeedSequence(self.seed, spawn_key=key))
        )
