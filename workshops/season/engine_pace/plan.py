"""What the pace says: sets and pieces by night, and what a piece on the rack is worth."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from inventory.engines import strict


@dataclass(frozen=True, slots=True)
class NightPace:
    """One night on average.

    ``sets`` counts the whole winter at its end, ``pieces`` the pieces to start by operation,
    ``benches`` the benches kept busy by station (1.5: one all night and one for half of it).
    """

    date: str
    sets: float
    pieces: dict[str, float]
    benches: dict[str, float]


@dataclass(frozen=True, slots=True)
class Pace:
    """The winter on average, and the worth of pieces.

    ``worth`` gives, for each item, the finished sets that one piece more on its rack tonight
    would bring: a price for small changes only. ``is_proven`` is false when the time was up.
    """

    target: int
    sets: float
    nights: tuple[NightPace, ...]
    worth: dict[str, float]
    is_proven: bool
    seconds: float

    def is_legal(self) -> bool:
        """Whether sets never fall and nothing is below nought."""
        counts = [night.sets for night in self.nights]
        pieces = [count for night in self.nights for count in night.pieces.values()]
        return counts == sorted(counts) and min([*pieces, *self.worth.values(), 0.0]) >= -1e-6

    def explain(self) -> list[str]:
        """The pace in sentences with their numbers."""
        told = [f"On average luck the winter ends with {self.sets:.0f} of {self.target} sets."]
        if self.nights:
            most = max(self.worth, key=lambda item: self.worth[item], default="")
            tonight = [f"{n:.0f} {o}" for o, n in self.nights[0].pieces.items() if n >= 0.5]
            told.append(f"First night, {self.nights[0].date}: {', '.join(tonight) or 'nothing'}.")
            if most and self.worth[most] > 0:
                told.append(f"One more {most} is worth {self.worth[most]:.2f} sets.")
        return told

    def to_json(self) -> Any:
        """The plain form, ready for ``json.dump``."""
        return strict.to_json(self)
