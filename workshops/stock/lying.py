"""Where the pieces of a metal lie: place by place, longest first, each drawn to scale."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from itertools import groupby

from inventory.ledger.models import Balance, Condition
from inventory.materials.models import Item
from inventory.places.models import Place

SHORTEST_BAR = 2  # of a hundred: a short drop is still seen


@dataclass(frozen=True, slots=True)
class Spot:
    """Equal pieces in one place; ``share`` of a hundred of the longest piece there is."""

    balance: Balance
    share: int
    is_whole: bool
    is_ahead: bool

    @property
    def is_held(self) -> bool:
        """Whether nobody may use it until somebody has looked."""
        return self.balance.condition == Condition.HOLD


@dataclass(frozen=True, slots=True)
class Rack:
    """What lies in one place: whole ones, pieces cut ahead for a part, and drops apart."""

    place: Place
    whole: tuple[Spot, ...]
    ahead: tuple[Spot, ...]
    drops: tuple[Spot, ...]


@dataclass(frozen=True, slots=True)
class Words:
    """What whole pieces and begun ones of a material are called."""

    whole: str
    begun: str


def racks_of(item: Item, balances: Iterable[Balance], parts: Collection[int]) -> tuple[Rack, ...]:
    """The places of a metal by name, with their pieces longest first. No query.

    Pieces of exactly a length in ``parts`` (micrometres) are cut ahead, not drops.
    """
    rows = sorted(balances, key=lambda row: (row.place.name, -row.length_um, row.condition))
    longest = max([row.length_um for row in rows] + [item.bought_length_um or 0, 1])
    # Without a length as bought, the longest piece is what a whole one must have been.
    whole = item.bought_length_um or longest
    return tuple(
        _rack(place, [_spot(row, whole, longest, parts) for row in here])
        for place, here in groupby(rows, key=lambda row: row.place)
    )


def words_of(item: Item) -> Words:
    """Wire comes in rolls, everything else in sticks."""
    if item.shape == Item.Shape.WIRE_MESH:
        return Words("Whole rolls", "Begun rolls and drops")
    return Words("Whole sticks", "Drops")


def _spot(row: Balance, whole: int, longest: int, parts: Collection[int]) -> Spot:
    share = max(SHORTEST_BAR, round(100 * row.length_um / longest))
    is_whole = row.length_um >= whole
    return Spot(row, share, is_whole, not is_whole and row.length_um in parts)


def _rack(place: Place, spots: list[Spot]) -> Rack:
    return Rack(
        place,
        tuple(spot for spot in spots if spot.is_whole),
        tuple(spot for spot in spots if spot.is_ahead),
        tuple(spot for spot in spots if not spot.is_whole and not spot.is_ahead),
    )
