"""What the needs engine is asked: items, recipes, wanted sets, nights to come.

Every quantity is a whole number in the item's own smallest unit: pieces, grams of hay,
micrometres of wire. A material cut from sticks is counted in sticks, and a recipe says how
long a piece it takes. A part on the rack is an item of its own with its recipe.
"""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from typing import Any

from inventory.engines import strict
from inventory.needs.engine.levels import low_level_order
from inventory.needs.engine.things import EVER, Item, Lot, OnOrder, a_day, not_negative

__all__ = [
    "EVER",
    "Input",
    "Item",
    "Lot",
    "NeedsProblem",
    "Night",
    "OnOrder",
    "Recipe",
    "Variant",
]


@dataclass(frozen=True, slots=True)
class Input:
    """What a recipe takes: ``quantity`` of an item, each ``length`` long when cut from sticks."""

    item: str
    quantity: int
    length: int | None = None

    def __post_init__(self) -> None:
        if self.quantity < 1:
            raise ValueError(f"quantity of {self.item} must be 1 or more, not {self.quantity}")
        if self.length is not None and self.length <= 0:
            raise ValueError(f"length of {self.item} must be more than 0, not {self.length}")


@dataclass(frozen=True, slots=True)
class Recipe:
    """``makes`` of ``output`` from the inputs; of a thousand started, ``scrap_per_mille`` fail."""

    output: str
    inputs: tuple[Input, ...]
    makes: int = 1
    scrap_per_mille: int = 0

    def __post_init__(self) -> None:
        if not self.inputs:
            raise ValueError(f"the recipe of {self.output} takes nothing: leave it out")
        if self.makes < 1:
            raise ValueError(f"makes of {self.output} must be 1 or more, not {self.makes}")
        if not 0 <= self.scrap_per_mille < 1000:
            raise ValueError(f"scrap_per_mille of {self.output} must be 0 to 999")
        pairs = [(part.item, part.length) for part in self.inputs]
        if len(set(pairs)) < len(pairs):
            raise ValueError(f"the recipe of {self.output} names an input twice")


@dataclass(frozen=True, slots=True)
class Variant:
    """A complete set: the item that is one, and how many are wanted, finished ones among them."""

    item: str
    wanted: int

    def __post_init__(self) -> None:
        not_negative(self.wanted, f"wanted of {self.item}")


@dataclass(frozen=True, slots=True)
class Night:
    """A night to come: ``sets`` finished by the usual pace, or planned ``pieces`` by item."""

    date: str
    sets: int = 0
    pieces: dict[str, int] | None = None

    def __post_init__(self) -> None:
        a_day(self.date, "date")
        not_negative(self.sets, f"sets of {self.date}")
        for key, count in (self.pieces or {}).items():
            not_negative(count, f"pieces of {key} on {self.date}")
        if self.sets and self.pieces:
            raise ValueError(f"{self.date} has sets and pieces: give one of them")

    @property
    def day(self) -> datetime.date:
        """The date as a date."""
        return datetime.date.fromisoformat(self.date)


@dataclass(frozen=True, slots=True)
class NeedsProblem:
    """Everything the engine looks at.

    Parameters
    ----------
    items, recipes
        At most one recipe for an item; an item without one is bought.
    variants
        The complete sets wanted; their numbers are the mix.
    nights
        In order of date. Empty when nothing is planned: no dates are given then.
    today
        ISO date, for order-by days that have passed.

    Raises
    ------
    ValueError
        Naming an unknown item, a second recipe, a recipe that needs itself, and the like.
    """

    items: tuple[Item, ...]
    recipes: tuple[Recipe, ...]
    variants: tuple[Variant, ...]
    nights: tuple[Night, ...] = ()
    today: str = "2000-01-01"  # nothing is late when nobody says what day it is

    def __post_init__(self) -> None:
        a_day(self.today, "today")
        _all_different([item.key for item in self.items], "items")
        _all_different([recipe.output for recipe in self.recipes], "recipes")
        _all_different([variant.item for variant in self.variants], "variants")
        known = {item.key: item for item in self.items}
        _refuse_unknown(self, known)
        for recipe in self.recipes:
            _refuse_bad_inputs(recipe, known)
        if any(n.sets for n in self.nights) and any(n.pieces for n in self.nights):
            raise ValueError("nights: give sets for all of them or pieces for all of them")
        if [night.date for night in self.nights] != sorted({n.date for n in self.nights}):
            raise ValueError("nights must be in order of date, no date twice")
        low_level_order(self.made_from())  # refuses what is needed to make itself

    @classmethod
    def from_json(cls, raw: object) -> NeedsProblem:
        """The problem in what ``json.load`` gave.

        Raises
        ------
        strict.ProblemRefused
            Naming the key and the reason.
        """
        return strict.from_json(cls, raw)

    def to_json(self) -> Any:
        """Plain values, ready for ``json.dump``."""
        return strict.to_json(self)

    def made_from(self) -> dict[str, list[str]]:
        """What each item that is made is made from."""
        return {recipe.output: [part.item for part in recipe.inputs] for recipe in self.recipes}

    def item(self, key: str) -> Item:
        """The item of that key."""
        return next(item for item in self.items if item.key == key)


def _refuse_unknown(problem: NeedsProblem, known: dict[str, Item]) -> None:
    for recipe in problem.recipes:
        if recipe.output not in known:
            raise ValueError(f"recipes: {recipe.output} is no item")
    for variant in problem.variants:
        if variant.item not in known:
            raise ValueError(f"variants: {variant.item} is no item")
    for night in problem.nights:
        for key in night.pieces or {}:
            if key not in known:
                raise ValueError(f"nights: {key} is no item")


def _refuse_bad_inputs(recipe: Recipe, known: dict[str, Item]) -> None:
    if known[recipe.output].is_cut_from_sticks:
        raise ValueError(f"recipes: {recipe.output} is a material cut from sticks")
    for part in recipe.inputs:
        if part.item not in known:
            raise ValueError(f"the recipe of {recipe.output} names {part.item}, which is no item")
        if known[part.item].is_cut_from_sticks and part.length is None:
            raise ValueError(f"the recipe of {recipe.output} must say how long its {part.item} is")
        if not known[part.item].is_cut_from_sticks and part.length is not None:
            raise ValueError(f"{part.item} in {recipe.output} has a length but is no stick")
        # buying would never help, however many sticks
        if not known[part.item].gives(part.length or 0):
            raise ValueError(f"{recipe.output} takes a longer piece than a stick of {part.item}")


def _all_different(keys: list[str], what: str) -> None:
    twice = sorted({key for key in keys if keys.count(key) > 1})
    if twice:
        raise ValueError(f"{what}: {twice[0]} stands twice")
