"""Straw and hay in the barn: how damp is too damp, how hot is too hot.

Source: extension services' notices on hay fires (Penn State Extension, M. Hall). They
differ on how often to look at 160 degrees, two hours or four: the club sets it.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import IntEnum

from workshops.club.queries import Rules
from workshops.club.rulebook import RULE

CHECK_F, WATCH_F, CALL_F, LEAVE_F = 150, 160, 175, 190
CHECK_HOURS, WATCH_HOURS = 12, 2
DRIEST_LIMIT, DAMPEST_LIMIT = 18, 22  # percent, where the sources put the limit of small bales
DEFER = "Local fire codes and your fire service come before this page."


class Heat(IntEnum):
    """How far a stack has warmed, each worse than the one before."""

    COOL = 0
    WARM = 1
    DANGER = 2
    CALL = 3
    LEAVE = 4


@dataclass(frozen=True, slots=True)
class HayLevels:
    """From which degrees Fahrenheit a club watches a stack, and how often it looks then."""

    check_f: int = CHECK_F
    watch_f: int = WATCH_F
    call_f: int = CALL_F
    check_hours: int = CHECK_HOURS
    watch_hours: int = WATCH_HOURS

    @property
    def leave_f(self) -> int:
        """From here nobody moves a bale unless the fire service stands by."""
        # Not the club's to raise: a club that calls later than this leaves at the same moment.
        return max(LEAVE_F, self.call_f)


@dataclass(frozen=True, slots=True)
class HayHeat:
    """What a temperature in the stack asks for; ``every_hours`` ``None`` with no interval."""

    heat: Heat
    every_hours: int | None
    sentence: str

    @property
    def call_fire_service(self) -> bool:
        """Whether this is for the fire service and not for the club."""
        return self.heat >= Heat.CALL


def levels_of(rules: Rules) -> HayLevels:
    """What the club decided about warm stacks."""
    return HayLevels(
        check_f=rules.hay_check_f,
        watch_f=rules.hay_watch_f,
        call_f=rules.hay_alarm_f,
        check_hours=rules.hay_check_hours,
        watch_hours=rules.hay_watch_hours,
    )


def heat_of(temperature_f: float | Decimal, levels: HayLevels = HayLevels()) -> HayHeat:
    """What to do about the warmest spot found in a stack."""
    # Hottest first: each mark includes those below it.
    if temperature_f >= levels.leave_f:
        words = "Call the fire service. Move nothing unless they stand by."
        return HayHeat(Heat.LEAVE, None, words)
    if temperature_f >= levels.call_f:
        words = "Call the fire service: it may be burning inside. Do not open the stack."
        return HayHeat(Heat.CALL, None, words)
    if temperature_f >= levels.watch_f:
        words = f"Danger: probe every {hours(levels.watch_hours)} and tell the barn's owner."
        return HayHeat(Heat.DANGER, levels.watch_hours, words)
    if temperature_f >= levels.check_f:
        words = f"Entering danger: probe every {hours(levels.check_hours)}."
        return HayHeat(Heat.WARM, levels.check_hours, words)
    return HayHeat(Heat.COOL, None, f"Below the first danger mark of {levels.check_f} °F.")


def damp_words(moisture_percent: float | Decimal, *, most_percent: int = 20) -> str:
    """Why a bale is turned away; empty when it is dry enough for the club to store.

    ``most_percent`` is the club's limit, anything that its rule takes; a limit above where
    the sources put it is said.

    Raises
    ------
    RuleRefused
        When the rulebook does not take such a limit.
    """
    RULE["bale_moisture_max_percent"].check(most_percent)
    if moisture_percent <= most_percent:
        return ""
    words = (
        f"The bale is {moisture_percent:g} % moist and the club's limit is {most_percent} %:"
        " send it back or spread it to dry, away from the stack."
    )
    if most_percent > DAMPEST_LIMIT:
        words += f" The sources put the limit at {DRIEST_LIMIT} to {DAMPEST_LIMIT} %."
    return words


def hours(count: int) -> str:
    """So many hours, as people say it."""
    return "hour" if count == 1 else f"{count} hours"
