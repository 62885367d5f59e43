"""What a cut list is asked for: pieces of one material, the sticks to hand, the saw.

Lengths are whole micrometres. Along one stick, first end on the left::

    |trim|  piece  |k|  piece  |k|  piece  |k|      left over       |
    0    ^ first mark      every mark is where the blade starts     length

A bought stick loses ``trim`` at both ends, the blade's own cut included. A drop is cut from
the end that was sawn before, so it loses ``trim`` only at the far end. What is left over is
measured as it lies, far end included, and is a drop worth keeping from ``keep_length`` on.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from inventory.engines import strict


@dataclass(frozen=True, slots=True)
class Piece:
    """A length wanted so many times.

    Parameters
    ----------
    label
        What the piece is called on the cut list; no two alike.
    length
        Micrometres, more than 0.
    count
        How many, 0 or more.
    per_set
        How many of them one set takes; 0 when it belongs to no set. Only used to say what
        mixed patterns save against cutting set by set.
    """

    label: str
    length: int
    count: int
    per_set: int = 0

    def __post_init__(self) -> None:
        _named(self.label, "a piece")
        _more_than_nothing(self.length, f"length of {self.label}")
        _not_negative(self.count, f"count of {self.label}")
        _not_negative(self.per_set, f"per_set of {self.label}")


@dataclass(frozen=True, slots=True)
class Stick:
    """Sticks of one length that may be cut.

    Parameters
    ----------
    label
        What the stick is called on the cut list; no two alike.
    length
        Micrometres, more than 0.
    count
        How many there are; ``None`` when as many as needed can be had.
    cost
        What one of them costs, in any one whole unit. ``None`` counts metal: its length, or
        for a drop its length at the worth of a kept remnant. All sticks or none carry one.
    is_drop
        A remnant kept from an earlier cut, one end sawn.
    """

    label: str
    length: int
    count: int | None = None
    cost: int | None = None
    is_drop: bool = False

    def __post_init__(self) -> None:
        _named(self.label, "a stick")
        _more_than_nothing(self.length, f"length of {self.label}")
        if self.count is not None:
            _not_negative(self.count, f"count of {self.label}")
        if self.cost is not None:
            _not_negative(self.cost, f"cost of {self.label}")
        if self.count is None and self.cost == 0:
            raise ValueError(f"cost of {self.label} must be more than 0 when it can be bought")


@dataclass(frozen=True, slots=True)
class CutProblem:
    """One material, one saw.

    Parameters
    ----------
    pieces, sticks
        What is wanted and what there is.
    kerf
        What the blade takes with each cut, micrometres; 0 for a shear.
    trim
        What is cut away at an end before it is used, blade included; 0, or at least ``kerf``.
    keep_length
        The shortest remnant worth keeping; ``None`` when no remnant is kept.
    keep_percent
        What a kept remnant is worth next to the same length of its stick, 0 to 99.
    material
        Printed on the cut list.

    Raises
    ------
    ValueError
        Naming the value that makes no sense.
    """

    pieces: tuple[Piece, ...]
    sticks: tuple[Stick, ...]
    kerf: int = 0
    trim: int = 0
    keep_length: int | None = None
    keep_percent: int = 80
    material: str = ""

    def __post_init__(self) -> None:
        _not_negative(self.kerf, "kerf")
        _not_negative(self.trim, "trim")
        if 0 < self.trim < self.kerf:
            raise ValueError("trim must be 0 or at least the kerf: the blade is part of it")
        if self.keep_length is not None:
            _more_than_nothing(self.keep_length, "keep_length")
        if not 0 <= self.keep_percent <= 99:
            raise ValueError(f"keep_percent must be 0 to 99, not {self.keep_percent}")
        _all_different([piece.label for piece in self.pieces], "pieces")
        _all_different([stick.label for stick in self.sticks], "sticks")
        # money and metal cannot be added up
        if len({stick.cost is None for stick in self.sticks}) > 1:
            raise ValueError("either every stick has a cost or none has")

    @classmethod
    def from_json(cls, raw: object) -> CutProblem:
        """The problem in what ``json.load`` gave.

        Raises
        ------
        strict.ProblemRefused
            Naming the key and the reason.
        """
        return strict.from_json(cls, raw)

    def to_json(self) -> Any:
        """Plain values, ready for ``json.dump``."""
        return strict.to_json(self)

    def start(self, stick: Stick) -> int:
        """Where the first piece starts on the stick."""
        return 0 if stick.is_drop else self.trim

    def room(self, stick: Stick) -> int:
        """What pieces, each with one kerf, may take together: the last cut needs no kerf."""
        return stick.length - self.start(stick) - self.trim + self.kerf

    def left_over(self, stick: Stick, taken: int) -> int:
        """What lies beside the saw when pieces and their kerfs took ``taken``."""
        return max(0, stick.length - self.start(stick) - taken)

    def is_kept(self, left_over: int) -> bool:
        """Whether what is left over goes back to the rack as a drop."""
        return self.keep_length is not None and left_over >= self.keep_length

    def cost_of(self, stick: Stick) -> int:
        """What using the stick costs before anything is returned."""
        if stick.cost is not None:
            return stick.cost
        return stick.length * self.keep_percent // 100 if stick.is_drop else stick.length

    def worth_of(self, stick: Stick, left_over: int) -> int:
        """What a left-over length is credited with: never more than its stick's cost.

        A drop's own remnant is worth the drop's cost by length. Were it credited more than
        the drop cost, cutting pieces nobody needs would pay.
        """
        if not self.is_kept(left_over):
            return 0
        worth = self.cost_of(stick) * left_over  # multiplied first, rounded once
        if stick.is_drop:
            return worth // stick.length
        return worth * self.keep_percent // (100 * stick.length)


def _named(label: str, what: str) -> None:
    if not label.strip():
        raise ValueError(f"label of {what} must not be empty")


def _more_than_nothing(value: int, what: str) -> None:
    if value <= 0:
        raise ValueError(f"{what} must be more than 0, not {value}")


def _not_negative(value: int, what: str) -> None:
    if value < 0:
        raise ValueError(f"{what} must not be less than 0, not {value}")


def _all_different(labels: list[str], what: str) -> None:
    twice = sorted({label for label in labels if labels.count(label) > 1})
    if twice:
        raise ValueError(f"{what}: the label {twice[0]} stands twice")
