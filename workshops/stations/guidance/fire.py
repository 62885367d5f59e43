"""When somebody must watch for fire, for how long, and when the last spark is."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import Enum

from inventory.measures.lengths import feet

SWEPT_UM = feet(35)  # the distance that the rules use for combustibles, openings and sweeping
MOST_MONITORING_MINUTES = 180


class FireCode(Enum):
    """Whose length of fire watch the club follows."""

    OSHA = "29 CFR 1910.252"
    NFPA_51B_2014 = "NFPA 51B-2014"
    NFPA_51B_2019 = "NFPA 51B-2019"


_LEAST_MINUTES = {FireCode.OSHA: 30, FireCode.NFPA_51B_2014: 30, FireCode.NFPA_51B_2019: 60}


@dataclass(frozen=True, slots=True)
class Watch:
    """A watch of so many minutes, and as many of looking in again when the permit says so.

    Source: 29 CFR 1910.252(a)(2)(iii)(B), half an hour; NFPA 51B-2019, one hour, and up to
    three more of monitoring (section 5.6.3).
    """

    code: FireCode = FireCode.NFPA_51B_2019
    minutes: int = 60
    monitoring_minutes: int = 0

    def __post_init__(self) -> None:
        least = _LEAST_MINUTES[self.code]
        if self.minutes < least:
            raise ValueError(f"minutes must be at least {least} under {self.code.value}")
        if not 0 <= self.monitoring_minutes <= MOST_MONITORING_MINUTES:
            raise ValueError("monitoring_minutes must be 0 to 180")

    def last_spark(self, lock_up: datetime) -> datetime:
        """The latest end of hot work that leaves the watch time before lock-up."""
        return lock_up - timedelta(minutes=self.minutes + self.monitoring_minutes)

    def earliest_lock_up(self, last_spark: datetime) -> datetime:
        """When the building may be locked after hot work ended."""
        return last_spark + timedelta(minutes=self.minutes + self.monitoring_minutes)


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What is round the place of hot work; distances in micrometres, ``None`` for none there."""

    combustibles_um: int | None = None
    are_easily_lit: bool = False
    opening_um: int | None = None
    is_behind_metal: bool = False


def watch_reasons(around: Surroundings) -> tuple[str, ...]:
    """Why a fire watch is needed; empty when no limb of the rule asks for one.

    Notes
    -----
    An empty answer is not leave to go without: the club and the permit decide.

    Source: 29 CFR 1910.252(a)(2)(iii)(A)(1) to (4).
    """
    reasons = []
    if around.combustibles_um is not None:
        # Strictly nearer here, and "within" for openings below: so the rule's two limbs are
        # worded.
        if around.combustibles_um < SWEPT_UM:
            reasons.append("something that burns is closer than 35 ft")
        elif around.are_easily_lit:
            reasons.append("something farther than 35 ft is easily lit by sparks")
    if around.opening_um is not None and around.opening_um <= SWEPT_UM:
        reasons.append("an opening within 35 ft leads to something that burns")
    if around.is_behind_metal:
        reasons.append("something that burns touches the other side of a metal wall")
    return tuple(reasons)
