"""Which items are other by a new drawing: parts, what contains them, blanks cut for them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from inventory.materials.models import Item, Recipe
from inventory.materials.queries import explode
from inventory.measures.lengths import spell_length
from workshops.stations.geometry.changes import Change, PartChange, SheetChanges
from workshops.stations.geometry.parts import PartRole
from workshops.stations.geometry.sheet import Sheet

Why = dict[int, tuple[str, ...]]
Recipes = Mapping[int, Recipe]
Items = Mapping[str, Item]  # by slug, which is how a drawing names them
Inside = Mapping[int, set[int]]


def affected(
    set_item: Item, old: Sheet, changes: SheetChanges, recipes: Recipes, items: Items
) -> Why:
    """Items that are other by the new drawing, each with why in a few words. No query.

    Only what goes into the set of this drawing: a head may go into other sets as well, and
    those follow drawings of their own.
    """
    tree = _within(set_item.pk, recipes)
    inside = {item: _within(item, recipes) for item in tree}
    found: Why = {}
    # The part itself before what holds it: the first words told of an item stay.
    for change in changes.parts:
        for item, words in _of_part(change, recipes, items):
            found.setdefault(item, words)
    for change in changes.parts:
        for item, words in _of_holders(change, inside, items):
            found.setdefault(item, words)
    for item, words in [
        *_of_joints(changes, inside, items),
        *_of_roll(changes, old, inside, items),
    ]:
        found.setdefault(item, words)
    return found


def _within(item: int, recipes: Recipes) -> set[int]:
    """The item and everything that goes into it, all the way down."""
    return {part for part, count in explode(recipes, {item: 1}).quantities.items() if count}


def _of_part(
    change: PartChange, recipes: Recipes, items: Items
) -> Iterator[tuple[int, tuple[str, ...]]]:
    part = items.get(change.item)
    if part is None or change.change is Change.ADDED or not change.is_other_shape:
        return
    yield part.pk, ("drawn otherwise",)
    # A blank that is drilled elsewhere is the same blank.
    if change.is_cut_anew:
        for blank in _blanks(part.pk, recipes):
            yield blank, (f"cut for {change.name}",)


def _of_holders(
    change: PartChange, inside: Inside, items: Items
) -> Iterator[tuple[int, tuple[str, ...]]]:
    part = items.get(change.item)
    if part is not None and change.change is not Change.ADDED:
        for holder in _holders(part.pk, inside):
            yield holder, (f"has {change.name} in it",)


def _of_joints(
    changes: SheetChanges, inside: Inside, items: Items
) -> Iterator[tuple[int, tuple[str, ...]]]:
    for pair in changes.joints:
        both = {items[slug].pk for slug in pair if slug in items}
        for holder, holds in inside.items():
            if len(both) == len(pair) and both <= holds:
                yield holder, (f"{' on '.join(pair)} is held otherwise",)


def _of_roll(
    changes: SheetChanges, old: Sheet, inside: Inside, items: Items
) -> Iterator[tuple[int, tuple[str, ...]]]:
    if not changes.is_other_roll:
        return
    for part in old.parts_in_role(PartRole.WIRE):
        wire = items.get(part.item)
        for holder in _holders(wire.pk, inside) if wire else ():
            yield holder, ("rolled by the drawing before",)


def _holders(part: int, inside: Inside) -> list[int]:
    return [item for item, holds in inside.items() if part in holds and item != part]


def _blanks(part: int, recipes: Recipes) -> list[int]:
    """Half-made things that only become the part: what was cut for it."""
    recipe = recipes.get(part)
    lines = recipe.lines.all() if recipe else ()
    blanks = [line.item_id for line in lines if line.item.kind == Item.Kind.RACK]
    return blanks + [deeper for blank in blanks for deeper in _blanks(blank, recipes)]


def recipes_to_mend(
    new: Sheet, changes: SheetChanges, recipes: Recipes, items: Items
) -> Iterator[str]:
    """Parts lists that still cut a part as long as the old drawing had it. No query."""
    for change in changes.parts:
        part = items.get(change.item)
        if part is None or change.change is Change.TAKEN_OFF or not change.is_cut_anew:
            continue
        wanted = new.part(change.item).length_um
        for output in (part.pk, *_blanks(part.pk, recipes)):
            if output in recipes:
                yield from _cut_otherwise(recipes[output], wanted)


def _cut_otherwise(recipe: Recipe, wanted: int) -> Iterator[str]:
    for line in recipe.lines.all():
        if line.length_um and line.length_um != wanted:
            units = line.item.shop.length_units
            yield (
                f"The parts list of {recipe.output} still cuts"
                f" {spell_length(line.length_um, units)}; the drawing now has"
                f" {spell_length(wanted, units)}."
            )
