"""What a check of a build sheet finds, and how checks are called."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from inventory.measures.lengths import Units
from workshops.stations.geometry.limits import SheetLimits
from workshops.stations.geometry.sheet import Sheet


@dataclass(frozen=True, slots=True)
class SheetWarning:
    """One thing to mend: ``field`` says where, ``sentence`` what is wrong and what to do."""

    field: str
    sentence: str


Warnings = Iterator[SheetWarning]
Check = Callable[[Sheet, SheetLimits, Units], Warnings]
