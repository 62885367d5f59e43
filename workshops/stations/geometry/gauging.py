"""Go or no-go on the bench: what is measured of a part or a roll, and what the drawing allows.

The sizes and their tolerance are the build sheet's own. Nothing here says that a part is
good: ``is_go`` means that this one measure lies within what is drawn.
"""

from __future__ import annotations

from dataclasses import dataclass

from inventory.measures.lengths import Units, spell_length
from workshops.stations.geometry.parts import Part
from workshops.stations.geometry.refuse import written
from workshops.stations.geometry.roll import shape_of
from workshops.stations.geometry.sheet import RollSpec


@dataclass(frozen=True, slots=True)
class Measure:
    """One thing to measure.

    Parameters
    ----------
    drawn_um
        What the sheet says, micrometres.
    least_um, most_um
        From and up to which it is within the drawing, both included; none: no such limit.
    """

    name: str
    drawn_um: int
    least_um: int | None = None
    most_um: int | None = None

    def __post_init__(self) -> None:
        written(self, "name")
        low, high = self.least_um, self.most_um
        if low is not None and high is not None and low > high:
            raise ValueError("least_um must not be more than most_um")


@dataclass(frozen=True, slots=True)
class Gauged:
    """Whether a measured value lies within the drawing, and what is said of it."""

    is_go: bool
    says: str


def length_of(part: Part) -> Measure:
    """The length, where the part is still straight."""
    return _about(f"Length of {part.name}", part.length_um, part.tolerance_um)


def holes_of(part: Part) -> tuple[Measure, ...]:
    """Each hole from the end it is drawn from, in order; empty for a part without holes."""
    holes = sorted(part.holes, key=lambda hole: hole.from_end_um)
    return tuple(
        _about(
            f"{hole.name or f'Hole {number}'} from the {part.end_name}",
            hole.from_end_um,
            part.tolerance_um,
        )
        for number, hole in enumerate(holes, 1)
    )


def ring_of(roll: RollSpec, most_um: int | None) -> Measure:
    """The first turn across inside: as drawn, and never over the club's limit."""
    return Measure("First turn, across inside", shape_of(roll).inside_um, most_um=most_um)


def gauge(measure: Measure, value_um: int, units: Units) -> Gauged:
    """What the drawing says of a measured value.

    Raises
    ------
    ValueError
        When the value is not more than nothing.
    """
    if value_um <= 0:
        raise ValueError("the measured value must be more than nothing")
    apart, drawn = value_um - measure.drawn_um, spell_length(measure.drawn_um, units)
    side = "over" if apart > 0 else "under"
    told = f"{spell_length(abs(apart), units)} {side} the {drawn} drawn" if apart else (
        f"{drawn}, as drawn"
    )  # fmt: skip
    if measure.least_um is not None and value_um < measure.least_um:
        return Gauged(False, f"{told}; at least {spell_length(measure.least_um, units)}")
    if measure.most_um is not None and value_um > measure.most_um:
        return Gauged(False, f"{told}; at most {spell_length(measure.most_um, units)}")
    if measure.least_um is None and measure.most_um is None:
        return Gauged(True, f"{told}; no limit is set")
    return Gauged(True, f"{told}; within the drawing")


def _about(name: str, drawn_um: int, tolerance_um: int) -> Measure:
    # A hole near the end may have more tolerance than metal before it.
    return Measure(name, drawn_um, max(1, drawn_um - tolerance_um), drawn_um + tolerance_um)
