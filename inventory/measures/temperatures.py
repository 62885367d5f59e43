"""Degrees Fahrenheit and Celsius, exact decimals to the tenth.

Source: t(F) = t(C) x 9/5 + 32, by definition.
"""

from __future__ import annotations

from decimal import Decimal
from enum import StrEnum

TENTH = Decimal("0.1")
COLDEST_F, HOTTEST_F = Decimal(-60), Decimal(999)  # what a probe thermometer can show


class Degrees(StrEnum):
    """What a thermometer reads."""

    FAHRENHEIT = "F"
    CELSIUS = "C"


class TemperatureRefused(ValueError):
    """A number that no thermometer in a barn shows."""


def fahrenheit(value: Decimal, degrees: str) -> Decimal:
    """Degrees Fahrenheit, exactly.

    Raises
    ------
    TemperatureRefused
        Beyond what a probe thermometer shows.
    """
    in_f = value * 9 / 5 + 32 if Degrees(degrees) is Degrees.CELSIUS else value
    if not COLDEST_F <= in_f <= HOTTEST_F:
        raise TemperatureRefused(f"{value} °{degrees} is no temperature of a stack.")
    return in_f


def in_degrees(value_f: Decimal, degrees: str) -> Decimal:
    """Degrees Fahrenheit as the shop reads them; exact where the tenth is enough."""
    return (value_f - 32) * 5 / 9 if Degrees(degrees) is Degrees.CELSIUS else value_f


def step_in_degrees(step_f: Decimal, degrees: str) -> Decimal:
    """A difference of temperatures: without the 32 degrees by which the scales are apart."""
    return step_f * 5 / 9 if Degrees(degrees) is Degrees.CELSIUS else step_f


def spell_temperature(value_f: Decimal, degrees: str) -> str:
    """The temperature as a person reads it: ``151.5 °F``, ``66.4 °C``, ``150 °F``."""
    tenths = in_degrees(value_f, degrees).quantize(TENTH)
    return f"{tenths:.0f} °{degrees}" if tenths == int(tenths) else f"{tenths} °{degrees}"
