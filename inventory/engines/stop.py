"""When an engine stops looking for something better."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Seconds:
    """Stop after this many seconds of wall clock.

    Parameters
    ----------
    seconds
        More than 0; ``math.inf`` for as long as it takes.
    """

    seconds: float

    def __post_init__(self) -> None:
        if not self.seconds > 0 or math.isnan(self.seconds):
            raise ValueError(f"seconds must be more than 0, not {self.seconds}")
