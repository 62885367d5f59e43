"""What lies there by the old drawing, what becomes of it, and whether pairs stay together.

Plain values and no database: the rule of the pairs is checked here alone, before anything
is posted and in the tests.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from inventory.ledger.models import Condition
from inventory.ledger.refusals import plain
from inventory.materials.models import Item
from inventory.places.models import Place
from workshops.stations.geometry.matching import Matching

NOTHING = Decimal()


@dataclass(frozen=True, slots=True)
class Lying:
    """So many of one thing in one place and condition, made to the old drawing.

    ``inner`` and ``outer`` say how many stems and posts of the old drawing are in each.
    """

    item: Item
    place: Place
    condition: str
    quantity: Decimal
    state: str
    why: tuple[str, ...] = ()
    inner: int = 0
    outer: int = 0
    also_on: tuple[str, ...] = ()
    made_since: Decimal = NOTHING

    @property
    def key(self) -> str:
        """The spot, as a form names it."""
        return f"{self.item.pk}-{self.place.pk}-{self.condition}"

    @property
    def is_held(self) -> bool:
        """Whether it is on hold already."""
        return self.condition == Condition.HOLD

    def __str__(self) -> str:
        held = ", on hold" if self.is_held else ""
        return f"{self.item}, {self.place}{held}"


@dataclass(frozen=True, slots=True)
class Fate:
    """How many of a spot are used up, reworked and scrapped, and why."""

    seen: Decimal
    use_up: Decimal = NOTHING
    rework: Decimal = NOTHING
    scrap: Decimal = NOTHING
    reason: str = ""

    @property
    def decided(self) -> Decimal:
        """How many have a fate."""
        return self.use_up + self.rework + self.scrap


@dataclass(frozen=True, slots=True)
class Mates:
    """How old and new go together, and the names of the two sides.

    ``inner_elsewhere`` and ``outer_elsewhere``: another drawing in force still asks for the
    old stem (or post), so it finds its mate there.
    """

    matching: Matching
    inner_name: str
    outer_name: str
    inner_elsewhere: bool = False
    outer_elsewhere: bool = False


def refusals_of(lying: Iterable[Lying], fates: Mapping[str, Fate]) -> dict[str, str]:
    """What is wrong with single spots, by their key; empty when every one is decided."""
    found: dict[str, str] = {}
    for spot in lying:
        fate = fates.get(spot.key)
        if fate is None or not fate.decided:
            found[spot.key] = f"{spot}: say what becomes of them."
        elif min(fate.use_up, fate.rework, fate.scrap) < 0:
            found[spot.key] = f"{spot}: nothing is fewer than none."
        elif fate.decided != spot.quantity:
            gave, lies = plain(fate.decided), plain(spot.quantity)
            found[spot.key] = f"{spot}: {lies} lie there, and {gave} were given a fate."
        elif (fate.rework or fate.scrap) and not fate.reason.strip():
            found[spot.key] = f"{spot}: say why they are reworked or scrapped."
    return found


def broken_pairs(
    lying: Iterable[Lying], fates: Mapping[str, Fate], mates: Mates | None
) -> list[str]:
    """Which fates leave a stem or a post without one that matches it, with the number.

    Old ones that are used up and do not go together with new ones need an old mate each.
    Reworked and scrapped ones need none, and a complete set has its own.
    """
    if mates is None:
        return []
    inner, outer = _used_up(lying, fates)
    found = []
    if not mates.matching.new_in_old and not mates.outer_elsewhere and outer > inner:
        found.append(_lonely(outer, mates.outer_name, inner, mates.inner_name))
    if not mates.matching.old_in_new and not mates.inner_elsewhere and inner > outer:
        found.append(_lonely(inner, mates.inner_name, outer, mates.outer_name))
    return found


def _used_up(lying: Iterable[Lying], fates: Mapping[str, Fate]) -> tuple[Decimal, Decimal]:
    """Old stems and old posts that are used up and look for a mate."""
    inner = outer = NOTHING
    for spot in lying:
        use_up = fates[spot.key].use_up if spot.key in fates else NOTHING
        # What a thing holds of both is paired inside it.
        paired = min(spot.inner, spot.outer)
        inner += use_up * (spot.inner - paired)
        outer += use_up * (spot.outer - paired)
    return inner, outer


def _lonely(many: Decimal, name: str, few: Decimal, mate: str) -> str:
    over = plain(many - few)
    return (
        f"{plain(many)} old “{name}” would be used up with {plain(few)} old “{mate}”: {over}"
        f" of them have none that matches. Rework or scrap {over} “{name}”, or use up {over}"
        f" more “{mate}”."
    )
