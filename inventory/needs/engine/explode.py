"""The explosion: what wanted sets take, level by level, with or without what is on hand.

Items are taken in low-level order, each once all that asks for it is known, so parts shared by
several assemblies are netted once and at the right moment.

Source: J. Orlicky, *Material Requirements Planning* (1975): gross to net by low-level code.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from inventory.needs.engine.levels import low_level_order
from inventory.needs.engine.problem import NeedsProblem, Recipe

Pieces = dict[tuple[str, int], int]  # (material, length) -> how many


@dataclass(slots=True)
class Exploded:
    """What is asked for of each item, what of it must be made or bought, what is started."""

    required: dict[str, int] = field(default_factory=dict)
    net: dict[str, int] = field(default_factory=dict)
    started: dict[str, int] = field(default_factory=dict)
    pieces: Pieces = field(default_factory=dict)

    def pieces_of(self, material: str) -> dict[int, int]:
        """Pieces to cut from one material, by length."""
        return {length: n for (key, length), n in self.pieces.items() if key == material and n}


def explode(
    problem: NeedsProblem,
    wanted: dict[str, int],
    *,
    with_scrap: bool,
    uses_stock: bool = True,
    until: str = "",
) -> Exploded:
    """What so many of each item take.

    Parameters
    ----------
    wanted
        By item, finished ones among them when ``uses_stock``.
    with_scrap
        Start as many more as are expected to fail.
    uses_stock
        Use up what is in the store and on the racks first; otherwise as if nothing were there.
    until
        What is on order counts as there when it comes by that ISO date; none of it by default.
    """
    there = {item.key: item.there_on(until) if uses_stock else 0 for item in problem.items}
    recipes = {recipe.output: recipe for recipe in problem.recipes}
    found = Exploded(required={item.key: wanted.get(item.key, 0) for item in problem.items})
    # made items first, each after all its users; what is bought comes out last
    order = low_level_order(problem.made_from())
    bought = [item.key for item in problem.items if item.key not in recipes]
    for key in (*order, *bought):
        found.net[key] = max(0, found.required[key] - there[key])
        found.started[key] = found.net[key]
        if key in recipes:
            found.started[key] = to_start(recipes[key], found.net[key], with_scrap=with_scrap)
            _ask_for_inputs(found, recipes[key])
    return found


def to_start(recipe: Recipe, good: int, *, with_scrap: bool) -> int:
    """How many to start for so many good ones, in whole goes of the recipe."""
    if with_scrap:
        # rounded up twice, to whole pieces and to whole goes: never one too few
        good = -(-good * 1000 // (1000 - recipe.scrap_per_mille))
    return -(-good // recipe.makes) * recipe.makes


def _ask_for_inputs(found: Exploded, recipe: Recipe) -> None:
    goes = found.started[recipe.output] // recipe.makes  # started is a multiple of makes
    for part in recipe.inputs:
        if part.length is None:
            found.required[part.item] += goes * part.quantity
        else:
            key = (part.item, part.length)
            found.pieces[key] = found.pieces.get(key, 0) + goes * part.quantity


def wanted_of(problem: NeedsProblem) -> dict[str, int]:
    """All the sets wanted, by item."""
    return {variant.item: variant.wanted for variant in problem.variants}
