"""Straw and hay in the barn: how damp is too damp, how hot is too hot.

Source: extension services' notices on hay fires (Penn State Extension, M. Hall). They
differ on how often to look at 160 degrees, two hours or four: the club sets it.
"""

from __future__ import annotations

from dataclasses import dataclass

CHECK_F, WATCH_F, CALL_F, LEAVE_F = 150, 160, 175, 190
DRIEST_LIMIT, DAMPEST_LIMIT = 18, 22  # percent; small bales are stored below one of these


@dataclass(frozen=True, slots=True)
class HayHeat:
    """What a temperature in the stack asks for; ``every_hours`` ``None`` with no interval."""

    every_hours: int | None
    call_fire_service: bool
    sentence: str


def heat_of(temperature_f: float, *, watch_every_hours: int = 2) -> HayHeat:
    """What to do about the warmest spot found in a stack.

    Parameters
    ----------
    watch_every_hours
        How often to look from 160 degrees on: sources say 2 or 4.
    """
    # Hottest first: each mark includes those below it.
    if temperature_f >= LEAVE_F:
        return HayHeat(None, True, "Call the fire service. Move nothing unless they stand by.")
    if temperature_f >= CALL_F:
        return HayHeat(None, True, "Call the fire service: it may be burning inside.")
    if temperature_f >= WATCH_F:
        words = f"Danger: measure every {watch_every_hours} hours and tell the barn's owner."
        return HayHeat(watch_every_hours, False, words)
    if temperature_f >= CHECK_F:
        return HayHeat(12, False, "Entering danger: measure twice a day.")
    return HayHeat(None, False, "Below the first danger mark of 150 °F.")


def damp_words(moisture_percent: float, *, most_percent: int = 20) -> str:
    """Why a bale is turned away; empty when it is dry enough to store.

    ``most_percent`` is the club's limit; the sources put it between 18 and 22.
    """
    if not DRIEST_LIMIT <= most_percent <= DAMPEST_LIMIT:
        raise ValueError("most_percent must be 18 to 22, where the sources put the limit")
    if moisture_percent <= most_percent:
        return ""
    return (
        f"The bale is {moisture_percent:g} % moist and the club's limit is {most_percent} %:"
        " send it back or spread it to dry, away from the stack."
    )
