"""What there is of a fill in bales, weight and volume, and how many cylinders it makes."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from inventory.ledger.models import Balance
from inventory.materials.models import Item, RecipeLine
from inventory.measures.fill import (
    Amount,
    Bale,
    FillRefused,
    amount_of,
    cubic_feet,
    cylinders_filled,
    litres,
    pounds,
)
from inventory.measures.lengths import Units
from inventory.places.models import Shop
from workshops.club.queries import Rules
from workshops.stations.geometry.sheet import RollSpec
from workshops.stations.geometry.volumes import fill_of
from workshops.stations.models import BuildSheet
from workshops.stations.queries import SheetRefused, sheet_of
from workshops.stock.weighing import spell_weight

DEFER = "Ask your fire service: local codes differ, and some exempt farm storage."


@dataclass(frozen=True, slots=True)
class Fills:
    """How many cylinders of some drawings a fill makes: as the straw wrap, or as nest hay."""

    drawings: str
    as_wrap: int | None
    as_hay: int | None


@dataclass(frozen=True, slots=True)
class FillFacts:
    """Ways to say how much there is: empty where nothing of the bale is known."""

    says: tuple[tuple[str, str], ...]
    by_parts_lists: tuple[tuple[Item, int], ...]
    by_drawings: tuple[Fills, ...]


@dataclass(frozen=True, slots=True)
class Fibre:
    """All straw and hay of a shop against the volume that its rule points out."""

    volume_um3: int
    unknown: tuple[Item, ...]
    limit_cubic_feet: int | None

    @property
    def is_over(self) -> bool:
        """Whether there is more than the rule points out."""
        limit = self.limit_cubic_feet
        return limit is not None and cubic_feet(self.volume_um3) > limit

    @property
    def words(self) -> str:
        """``About 215 cubic feet``: the unit is that of the codes, whatever the shop reads."""
        return f"About {cubic_feet(self.volume_um3):,.0f} cubic feet"


def bale_of(item: Item) -> Bale | None:
    """The bale of a fill; ``None`` until somebody has measured and weighed one."""
    if not item.has_bale:
        return None
    sizes = (item.bale_length_um, item.bale_width_um, item.bale_height_um, item.bale_weight_g)
    length, width, height, weight = (int(size or 0) for size in sizes)
    return Bale(length, width, height, weight, item.loose_g_per_litre or None)


def amount_there(item: Item, quantity: Decimal) -> Amount | None:
    """The quantity in every measure that is known; ``None`` for a unit that says nothing."""
    try:
        return amount_of(quantity, item.unit, bale_of(item))
    except FillRefused:
        return None


def fill_facts(item: Item, quantity: Decimal, uses: Sequence[RecipeLine]) -> FillFacts:
    """What the page of a fill says beside its count. 1 query."""
    amount = amount_there(item, quantity)
    made = tuple(
        (line.recipe.output, int(quantity / line.quantity) * line.recipe.quantity) for line in uses
    )
    if amount is None:
        return FillFacts((), made, ())
    return FillFacts(tuple(_says(item, amount)), made, _by_drawings(item.shop, amount))


def fibre_of(balances: Iterable[Balance], rules: Rules) -> Fibre:
    """The room that all straw and hay take as they lie. No query beyond the balances."""
    by_item: dict[Item, Decimal] = defaultdict(Decimal)
    for row in balances:
        by_item[row.item] += row.quantity
    amounts = {item: amount_there(item, quantity) for item, quantity in by_item.items()}
    volumes = {item: amount.lying_um3 if amount else None for item, amount in amounts.items()}
    return Fibre(
        volume_um3=sum(volume for volume in volumes.values() if volume),
        unknown=tuple(item for item, volume in volumes.items() if volume is None),
        limit_cubic_feet=rules.fibre_limit_cubic_feet,
    )


def spell_volume(volume_um3: int, units: Units) -> str:
    """A volume as people say it: ``5.25 cu ft``, ``148.7 litres``, ``2.4 m³``."""
    if units is Units.INCH:
        feet = cubic_feet(volume_um3)
        return f"{feet:,.0f} cu ft" if feet >= 100 else f"{feet.quantize(Decimal('0.01'))} cu ft"
    measured = litres(volume_um3)
    return f"{measured / 1000:.1f} m³" if measured >= 1000 else f"{measured:.1f} litres"


def _says(item: Item, amount: Amount) -> Iterable[tuple[str, str]]:
    units, bale = item.shop.length_units, bale_of(item)
    if amount.bales is not None:
        yield "In bales", f"{amount.bales:.1f}"
    if amount.grams is not None:
        yield "Weight", spell_weight(pounds(amount.grams), units)
    if amount.baled_um3 is not None:
        yield "Room in bales", spell_volume(amount.baled_um3, units)
    if amount.loose_um3 is not None:
        yield "Room shaken loose", spell_volume(amount.loose_um3, units)
    if bale is not None:
        yield "One bale", f"{spell_volume(bale.volume_um3, units)}, {_dense(bale, units)}"


def _dense(bale: Bale, units: Units) -> str:
    if units is Units.INCH:
        return f"{bale.pounds_per_cubic_foot:.2f} lb a cubic foot"
    return f"{bale.g_per_litre:.0f} kg a cubic metre"


def _by_drawings(shop: Shop, amount: Amount) -> tuple[Fills, ...]:
    """Equal rolls of several drawings are told once."""
    rolls: dict[RollSpec, list[str]] = {}
    for row in BuildSheet.objects.filter(shop=shop, status=BuildSheet.Status.IN_FORCE):
        # A sheet without a frozen copy would cost a query each, and has never been in force.
        roll = _roll_of(row) if row.drawn else None
        if roll is not None:
            rolls.setdefault(roll, []).append(row.drawing_number)
    return tuple(_fills(roll, numbers, amount) for roll, numbers in rolls.items())


def _roll_of(row: BuildSheet) -> RollSpec | None:
    try:
        return sheet_of(row).roll
    except SheetRefused:
        return None


def _fills(roll: RollSpec, numbers: list[str], amount: Amount) -> Fills:
    fill = fill_of(roll)
    return Fills(
        ", ".join(numbers),
        cylinders_filled(amount, fill.straw_um3, roll.straw_g_per_litre),
        cylinders_filled(amount, fill.hay_um3, roll.hay_g_per_litre),
    )
