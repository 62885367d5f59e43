"""What steers the placing engine beyond the facts of the night."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from inventory.engines import strict


@dataclass(frozen=True, slots=True)
class PlacingParams:
    """Weights and tolerances.

    Parameters
    ----------
    gap
        Relative: a plan is "proven best" when no plan can make more than this share more
        tonight. 0 to 1.
    kept_share
        Share of the night's production that wishes, learning and rotation may not touch,
        above 0 up to 1.
    turn
        Points for each time that somebody is off the floor, or without a place, more often
        than it is their turn. 0 to 1000.
    wish, learning, rotation, placed, wanted
        Points among the softer aims: a person at a station they like; a learner beside a
        lead; a station the person was not at on the last nights; somebody placed rather
        than idle; a wanted place (runner) filled. 0 to 1000.
    change
        On a re-plan: the share of the night's production that moving everybody would cost;
        one of a hundred placings moved costs a hundredth of it. 0 to 10.
    """

    gap: float = 0.001
    kept_share: float = 0.999
    turn: float = 8.0
    wish: float = 2.0
    learning: float = 3.0
    rotation: float = 1.0
    placed: float = 1.0
    wanted: float = 6.0
    change: float = 0.2

    def __post_init__(self) -> None:
        if not 0 <= self.gap <= 1:
            raise ValueError(f"gap must be 0 to 1, not {self.gap}")
        if not 0 < self.kept_share <= 1:
            raise ValueError(f"kept_share must be above 0 up to 1, not {self.kept_share}")
        if not 0 <= self.change <= 10:
            raise ValueError(f"change must be 0 to 10, not {self.change}")
        for name in ("turn", "wish", "learning", "rotation", "placed", "wanted"):
            if not 0 <= getattr(self, name) <= 1000:
                raise ValueError(f"{name} must be 0 to 1000, not {getattr(self, name)}")

    @classmethod
    def from_json(cls, raw: object) -> PlacingParams:
        """Params from what ``json.load`` gave; refused by key and reason."""
        return strict.from_json(cls, raw, "params")

    def to_json(self) -> dict[str, Any]:
        """Plain values, ready for ``json.dump``."""
        plain: dict[str, Any] = strict.to_json(self)
        return plain
