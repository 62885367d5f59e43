"""Straw and hay: bales, loose volume and weight, one into the other.

Volumes are whole cubic micrometres and weights exact decimals of grams, so that a hundred
bales are exactly a hundred times one; cubic feet and litres are for reading.

Source: 1 ft = 304.8 mm and 1 lb = 453.59237 g exactly (agreement of 1959).
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from inventory.measures.lengths import MICROMETRES_PER_FOOT

CUBIC_UM_PER_LITRE = 10**15
CUBIC_UM_PER_CUBIC_FOOT = MICROMETRES_PER_FOOT**3
GRAMS_PER_POUND = Decimal("453.59237")

# What one of a unit weighs, and what one of a unit fills.
_GRAMS = {"g": Decimal(1), "kg": Decimal(1000), "lb": GRAMS_PER_POUND, "lbs": GRAMS_PER_POUND}
_CUBIC_UM = {"litre": CUBIC_UM_PER_LITRE, "l": CUBIC_UM_PER_LITRE,
             "cu ft": CUBIC_UM_PER_CUBIC_FOOT, "m3": 10**18}  # fmt: skip
_BALES = {"bale", "bales"}


class FillRefused(ValueError):
    """A unit that says neither weight nor volume nor bales, or a size that is missing."""


@dataclass(frozen=True, slots=True)
class Bale:
    """One bale of a kind of fill; ``loose_g_per_litre`` where somebody has weighed it loose.

    Parameters
    ----------
    length_um, width_um, height_um
        Micrometres, all above 0.
    weight_g
        Whole grams, above 0.
    """

    length_um: int
    width_um: int
    height_um: int
    weight_g: int
    loose_g_per_litre: int | None = None

    def __post_init__(self) -> None:
        if min(self.length_um, self.width_um, self.height_um, self.weight_g) <= 0:
            raise FillRefused("a bale has three sizes and a weight, all more than nothing")
        if self.loose_g_per_litre is not None and self.loose_g_per_litre <= 0:
            raise FillRefused("a litre of loose fill weighs more than nothing")

    @property
    def volume_um3(self) -> int:
        """How much room it takes."""
        return self.length_um * self.width_um * self.height_um

    @property
    def g_per_litre(self) -> Decimal:
        """How dense it is; the same number is kilograms to the cubic metre."""
        return self.weight_g / litres(self.volume_um3)

    @property
    def pounds_per_cubic_foot(self) -> Decimal:
        """The same, as American tables have it."""
        return pounds(Decimal(self.weight_g)) / cubic_feet(self.volume_um3)


@dataclass(frozen=True, slots=True)
class Amount:
    """So much of one fill, said in every way that is known; ``None`` where it is not."""

    bales: Decimal | None
    grams: Decimal | None
    baled_um3: int | None
    loose_um3: int | None

    @property
    def lying_um3(self) -> int | None:
        """The room it takes as it lies: in bales where it comes in bales, else loose."""
        return self.loose_um3 if self.baled_um3 is None else self.baled_um3


def amount_of(quantity: Decimal, unit: str, bale: Bale | None) -> Amount:
    """The quantity as bales, weight, volume in bales and volume shaken loose.

    Raises
    ------
    FillRefused
        When the unit is none of fill's, or needs the size of a bale that is not known.
    """
    unit = unit.strip().lower()
    if unit in _CUBIC_UM:
        return _of_volume(quantity * _CUBIC_UM[unit], bale)
    if unit in _GRAMS:
        return _of_grams(quantity * _GRAMS[unit], bale)
    if unit not in _BALES:
        raise FillRefused(f"“{unit}” is neither a weight, a volume nor a bale")
    if bale is None:
        raise FillRefused("give the size and the weight of a bale first")
    return _of_grams(quantity * bale.weight_g, bale)


def _of_grams(grams: Decimal, bale: Bale | None) -> Amount:
    if bale is None:
        return Amount(None, grams, None, None)
    bales = grams / bale.weight_g
    return Amount(bales, grams, int(bales * bale.volume_um3), _loose(grams, bale))


def _of_volume(volume_um3: Decimal, bale: Bale | None) -> Amount:
    """Fill counted by volume lies loose: without its loose weight it has no other measure."""
    if bale is None or bale.loose_g_per_litre is None:
        return Amount(None, None, None, int(volume_um3))
    grams = litres(int(volume_um3)) * bale.loose_g_per_litre
    return Amount(grams / bale.weight_g, grams, None, int(volume_um3))


def _loose(grams: Decimal, bale: Bale) -> int | None:
    if bale.loose_g_per_litre is None:
        return None
    return int(grams / bale.loose_g_per_litre * CUBIC_UM_PER_LITRE)


def litres(volume_um3: int) -> Decimal:
    """A volume for reading."""
    return Decimal(volume_um3) / CUBIC_UM_PER_LITRE


def cubic_feet(volume_um3: int) -> Decimal:
    """A volume for reading."""
    return Decimal(volume_um3) / CUBIC_UM_PER_CUBIC_FOOT


def pounds(grams: Decimal) -> Decimal:
    """A weight for reading."""
    return grams / GRAMS_PER_POUND


def cylinders_filled(amount: Amount, each_um3: int, g_per_litre: int | None) -> int | None:
    """How many cylinders so much fills: by weight where the packed density is known.

    Parameters
    ----------
    each_um3
        The room in one cylinder, packed.
    g_per_litre
        How heavy the fill is as packed; ``None`` where nobody has weighed any.

    Notes
    -----
    By weight where it can be: loose straw is pressed when it is packed, so its volume says
    little. Without a weight a bale is taken to be packed as tight as it came.
    """
    if amount.grams is not None and g_per_litre:
        return int(amount.grams / (litres(each_um3) * g_per_litre))
    volume = amount.lying_um3
    return None if volume is None else volume // each_um3
