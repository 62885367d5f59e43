"""The revised lifting equation of NIOSH: how heavy a two-handed lift may be.

Source: NIOSH publication 94-110, Applications Manual for the Revised NIOSH Lifting
Equation (revised 9/2021).
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from enum import Enum
from math import prod

from inventory.measures.lengths import MICROMETRES_PER_INCH, Units, inches

_KNUCKLE = inches(30)  # where the coupling and frequency tables divide
_FARTHEST, _HIGHEST, _LONGEST = inches(25), inches(70), inches(70)


class Coupling(Enum):
    """How well the hands hold the load."""

    GOOD = "good"
    FAIR = "fair"
    POOR = "poor"


class LiftRefused(ValueError):
    """A lift to which the equation does not apply, with the reason."""


@dataclass(frozen=True, slots=True)
class Lift:
    """One kind of lift.

    Parameters
    ----------
    hands_out_um, hands_up_um
        Hands from the ankles, forward; hands above the floor.
    travel_um
        How far the load moves up or down.
    twist_deg
        0 to 180: how far the hands are from straight ahead.
    per_minute
        Lifts in a minute, 0 or more.
    hours
        How long the lifting goes on, with the rests that the manual asks for: more than 0.
    """

    hands_out_um: int
    hands_up_um: int
    travel_um: int
    twist_deg: float = 0.0
    per_minute: float = 0.2
    hours: float = 1.0
    coupling: Coupling = Coupling.GOOD
    is_one_handed: bool = False
    is_seated: bool = False
    is_unstable: bool = False

    def __post_init__(self) -> None:
        for wrong, why in (
            (self.is_one_handed, "with one hand"),
            (self.is_seated, "sitting or kneeling"),
            (self.is_unstable, "of a load that shifts, such as a loose armful or half a bag"),
            (self.hours > 8, "for more than 8 hours"),
        ):
            if wrong:
                raise LiftRefused(f"the equation does not cover lifts {why}")
        if self.hours <= 0 or self.per_minute < 0 or not 0 <= self.twist_deg <= 180:
            raise ValueError("hours, per_minute and twist_deg must be in their ranges")


@dataclass(frozen=True, slots=True)
class Multipliers:
    """The six multipliers, 0 to 1 each, and the weight for a perfect lift."""

    constant: float
    horizontal: float
    vertical: float
    distance: float
    asymmetry: float
    frequency: float
    coupling: float

    def recommended(self) -> float:
        """The recommended weight limit in the unit of ``constant``."""
        # All the fields and nothing else: the dataclass keeps them in the order of the equation.
        return float(prod(getattr(self, name) for name in self.__slots__))

    def printed(self) -> Multipliers:
        """Each to two places, as the manual's work sheets have them."""
        # A hair more, or 0.945 in binary would be rounded down where the manual rounds up.
        return Multipliers(*(round(getattr(self, name) + 1e-9, 2) for name in self.__slots__))


# Lifts a minute; then up to 1, 2 and 8 hours, each with hands below and from 30 in up.
# From memory, not read in the manual.
_FREQUENCY = (
    (0.2, 1.00, 1.00, 0.95, 0.95, 0.85, 0.85), (0.5, 0.97, 0.97, 0.92, 0.92, 0.81, 0.81),
    (1, 0.94, 0.94, 0.88, 0.88, 0.75, 0.75), (2, 0.91, 0.91, 0.84, 0.84, 0.65, 0.65),
    (3, 0.88, 0.88, 0.79, 0.79, 0.55, 0.55), (4, 0.84, 0.84, 0.72, 0.72, 0.45, 0.45),
    (5, 0.80, 0.80, 0.60, 0.60, 0.35, 0.35), (6, 0.75, 0.75, 0.50, 0.50, 0.27, 0.27),
    (7, 0.70, 0.70, 0.42, 0.42, 0.22, 0.22), (8, 0.60, 0.60, 0.35, 0.35, 0.18, 0.18),
    (9, 0.52, 0.52, 0.30, 0.30, 0.00, 0.15), (10, 0.45, 0.45, 0.26, 0.26, 0.00, 0.13),
    (11, 0.41, 0.41, 0.00, 0.23, 0.00, 0.00), (12, 0.37, 0.37, 0.00, 0.21, 0.00, 0.00),
    (13, 0.00, 0.34, 0.00, 0.00, 0.00, 0.00), (14, 0.00, 0.31, 0.00, 0.00, 0.00, 0.00),
    (15, 0.00, 0.28, 0.00, 0.00, 0.00, 0.00),
)  # fmt: skip


def multipliers(lift: Lift, units: Units = Units.INCH) -> Multipliers:
    """The multipliers of a lift, for pounds and inches or kilograms and centimetres.

    Notes
    -----
    Closer than 10 in counts as 10 in, and a shorter way than 10 in as none; hands farther
    out than 25 in or higher than 70 in, a way over 70 in or a twist over 135 degrees
    give 0: nobody should lift so.
    """
    in_pounds = units is Units.INCH
    per_unit = MICROMETRES_PER_INCH if in_pounds else 10_000
    fixed = (51.0, 10, 30, 0.0075, 1.8) if in_pounds else (23.0, 25, 75, 0.003, 4.5)
    constant, nearest, knuckle, slope, rise = fixed
    out = max(lift.hands_out_um / per_unit, nearest)
    # Below this distance the equation has no more to give.
    way = max(lift.travel_um / per_unit, nearest)
    off = abs(lift.hands_up_um / per_unit - knuckle)
    return Multipliers(
        constant=constant,
        horizontal=nearest / out if lift.hands_out_um <= _FARTHEST else 0.0,
        vertical=1 - slope * off if lift.hands_up_um <= _HIGHEST else 0.0,
        distance=min(1.0, 0.82 + rise / way) if lift.travel_um <= _LONGEST else 0.0,
        asymmetry=1 - 0.0032 * lift.twist_deg if lift.twist_deg <= 135 else 0.0,
        frequency=frequency_multiplier(lift),
        coupling=coupling_multiplier(lift),
    )


def recommended_weight(lift: Lift, units: Units = Units.INCH) -> float:
    """The recommended weight limit, in pounds for inches and kilograms for millimetres."""
    return multipliers(lift, units).recommended()


def lifting_index(weight: float, lift: Lift, units: Units = Units.INCH) -> float:
    """The weight over the recommended limit; infinite where nobody should lift at all."""
    limit = recommended_weight(lift, units)
    # Infinite and no error: a card still has to say that nobody should lift it.
    return weight / limit if limit else float("inf")


def index_words(index: float) -> str:
    """What an index says; 1.0 itself still counts as within the aim."""
    if index <= 1.0:
        return "within the aim of the equation"
    if index <= 3.0:
        return "over the aim of the equation: share the load or bring it closer"
    return "far over the aim of the equation: do not carry it so"


def frequency_multiplier(lift: Lift) -> float:
    """The multiplier for how often; between two rows the more frequent, beyond them 0."""
    # The first row that is at least as frequent: no interpolation, and never the kinder row.
    row = bisect_left([row[0] for row in _FREQUENCY], lift.per_minute)
    if row == len(_FREQUENCY):
        return 0.0
    length = 0 if lift.hours <= 1 else 1 if lift.hours <= 2 else 2
    return _FREQUENCY[row][1 + 2 * length + (lift.hands_up_um >= _KNUCKLE)]


def coupling_multiplier(lift: Lift) -> float:
    """The multiplier for the grip: a fair one costs only below 30 in."""
    if lift.coupling is Coupling.FAIR:
        return 1.0 if lift.hands_up_um >= _KNUCKLE else 0.95
    return 1.0 if lift.coupling is Coupling.GOOD else 0.90


def spread_frequency(per_minute: float, minutes: float) -> float:
    """Lifts a minute over 15 minutes, when they come in a burst shorter than that."""
    # Work of more than 15 minutes is no burst, and gets no relief.
    return per_minute * min(minutes, 15) / 15
