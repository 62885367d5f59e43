"""Lengths as whole micrometres: reading what people type, spelling what they read.

Source: 1 in = 25.4 mm exactly (international yard and pound agreement, 1959).
"""

from __future__ import annotations

import re
from enum import Enum
from fractions import Fraction

MICROMETRES_PER_MM = 1_000
MICROMETRES_PER_INCH = 25_400
MICROMETRES_PER_FOOT = 12 * MICROMETRES_PER_INCH
# What a tape in a shop still shows; a 1/64 cannot be marked with chalk.
FINEST = 32  # inches are shown to the nearest 1/32

# A caliper is read as ".083": the nought before the point is left out in speech and on paper.
_NUMBER = r"(?:\d+(?:\.\d+)?|\.\d+)"
_INCHES = rf"(?:(?P<whole>\d+)(?:\s+|-))?(?P<top>\d+)/(?P<bottom>\d+)|(?P<plain>{_NUMBER})"
_TYPED = re.compile(
    rf"""^\s*
    (?:(?P<feet>{_NUMBER})\s*(?:ft|feet|foot|')\s*)?
    (?:(?:{_INCHES})\s*(?P<unit>mm|cm|m|in|inch|inches|"|''|ft|feet|foot|')?)?
    \s*$""",
    re.VERBOSE | re.IGNORECASE,
)
_PER_UNIT = {
    "mm": 1_000, "cm": 10_000, "m": 1_000_000,
    "in": MICROMETRES_PER_INCH, "ft": MICROMETRES_PER_FOOT,
}  # fmt: skip
_SPELLINGS = {
    "inch": "in", "inches": "in", '"': "in", "''": "in", "feet": "ft", "foot": "ft", "'": "ft",
}  # fmt: skip


class Units(Enum):
    """How a shop likes its lengths."""

    INCH = "in"
    MILLIMETRE = "mm"


class LengthRefused(ValueError):
    """Text that is no length, with an example of what is."""


def inches(value: str | int | Fraction) -> int:
    """Micrometres of a number of inches: ``inches("1 1/2")``, ``inches(34)``."""
    if isinstance(value, str):
        return read_length(value, Units.INCH)
    return round(Fraction(value) * MICROMETRES_PER_INCH)


def feet(value: str | int | Fraction) -> int:
    """Micrometres of a number of feet."""
    return round(Fraction(value) * MICROMETRES_PER_FOOT)


def millimetres(value: str | int | Fraction) -> int:
    """Micrometres of a number of millimetres."""
    return round(Fraction(value) * MICROMETRES_PER_MM)


def read_length(text: str, units: Units) -> int:
    """Micrometres of what a person typed: ``34``, ``1 1/2``, ``8 ft 6 in``, ``610 mm``.

    A bare number is in the shop's units.

    Raises
    ------
    LengthRefused
        When the text is no length, or is not more than nothing.
    """
    # The pattern has only optional parts, so it also matches blanks.
    match = _TYPED.match(text)
    if not match or not text.strip():
        raise LengthRefused(_advice(text))
    parts = match.groupdict()
    unit = (parts["unit"] or "").lower()
    unit = _SPELLINGS.get(unit, unit) or ("in" if parts["feet"] else units.value)
    # "8 ft 30 mm" is more likely a slip than a length.
    if parts["feet"] and unit != "in":
        raise LengthRefused(_advice(text))
    # Exact until the end: thirds of an inch rounded twice would move by a micrometre.
    total = Fraction(parts["feet"] or 0) * MICROMETRES_PER_FOOT
    total += _amount(parts, text) * _PER_UNIT[unit]
    if total <= 0:
        raise LengthRefused(f"A length must be more than nothing, not {text.strip()}.")
    return round(total)


def _amount(parts: dict[str, str | None], text: str) -> Fraction:
    if parts["plain"]:
        return Fraction(parts["plain"])
    if not parts["top"]:
        return Fraction(0)
    if int(parts["bottom"] or 0) == 0:
        raise LengthRefused(_advice(text))
    return int(parts["whole"] or 0) + Fraction(int(parts["top"] or 0), int(parts["bottom"] or 1))


def _advice(text: str) -> str:
    return f"“{text.strip()}” is not a length. Write 34, 1 1/2, 8 ft 6 in or 610 mm."


def spell_length(micrometres: int, units: Units) -> str:
    """The length as a person reads it, with its unit: ``46 5/8 in`` or ``1184.3 mm``."""
    if units is Units.MILLIMETRE:
        tenths = round(Fraction(micrometres, 100))
        # Without its sign: divmod of a negative length would borrow a whole millimetre.
        whole, rest = divmod(abs(tenths), 10)
        sign = "-" if tenths < 0 else ""
        return f"{sign}{whole}.{rest} mm" if rest else f"{sign}{whole} mm"
    return f"{spell_inches(micrometres)} in"


def spell_inches(micrometres: int, finest: int = FINEST) -> str:
    """Inches and the nearest fraction, without the unit: ``46 5/8``, ``3/32``, ``0``."""
    parts = round(Fraction(abs(micrometres) * finest, MICROMETRES_PER_INCH))
    whole, rest = divmod(parts, finest)
    # Nothing left after rounding is no longer below nothing: "-0" helps nobody.
    sign = "-" if micrometres < 0 and parts else ""
    if not rest:
        return f"{sign}{whole}"
    fraction = Fraction(rest, finest)
    written = f"{fraction.numerator}/{fraction.denominator}"
    return f"{sign}{whole} {written}" if whole else f"{sign}{written}"
