"""Items, recipes and what a number of complete sets comes to, all the way down."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import ROUND_CEILING, Decimal

from django.db.models import Prefetch, Q, QuerySet

from inventory.materials.models import Item, Recipe, RecipeLine
from inventory.places.models import Shop


@dataclass(frozen=True, slots=True)
class PieceWanted:
    """Pieces of one length that something is made from."""

    made_into: Item
    length_um: int
    count: int
    per_set: int


@dataclass(slots=True)
class Explosion:
    """What some sets come to when nothing is on hand.

    ``quantities`` by item; ``pieces`` by material, then by what they are made into and
    their length.
    """

    quantities: dict[int, Decimal] = field(default_factory=lambda: defaultdict(Decimal))
    pieces: dict[int, dict[tuple[int, int], Decimal]] = field(
        default_factory=lambda: defaultdict(lambda: defaultdict(Decimal))
    )


def items_of(shop: Shop, search: str = "") -> QuerySet[Item]:
    """The shop's items by name, with their homes. 1 query; empty for a new shop."""
    items = Item.objects.filter(shop=shop).select_related("home", "shop")
    words = search.split()
    for word in words:
        named = Q(name__icontains=word) | Q(size__icontains=word)
        items = items.filter(named | Q(home__name__icontains=word))
    return items


def metals_of(shop: Shop) -> QuerySet[Item]:
    """What is cut from by length. 1 query."""
    return items_of(shop).filter(kind=Item.Kind.METAL)


def sets_of(shop: Shop) -> QuerySet[Item]:
    """The kinds of complete sets. 1 query."""
    return items_of(shop).filter(kind=Item.Kind.SET)


def recipes_in_use(shop: Shop) -> dict[int, Recipe]:
    """The recipe in use by output, with lines and items. 2 queries."""
    lines = RecipeLine.objects.select_related("item", "item__shop")
    recipes = Recipe.objects.filter(shop=shop, is_in_use=True).select_related("output")
    return {
        recipe.output_id: recipe for recipe in recipes.prefetch_related(Prefetch("lines", lines))
    }


def recipe_of(output: Item) -> Recipe | None:
    """The parts list in use, with lines and items; ``None`` for bought goods. 2 queries."""
    recipes = Recipe.objects.filter(output=output, is_in_use=True)
    return recipes.prefetch_related("lines__item__shop").first()


def used_in(item: Item) -> QuerySet[RecipeLine]:
    """Lines of recipes in use that take the item. 1 query."""
    lines = RecipeLine.objects.filter(item=item, recipe__is_in_use=True)
    return lines.select_related("recipe", "recipe__output").order_by("recipe__output__name")


def lengths_in_use(items: Iterable[int]) -> dict[int, set[int]]:
    """Material -> the lengths that parts lists in use take of it. 1 query."""
    lines = RecipeLine.objects.filter(item__in=items, recipe__is_in_use=True, length_um__gt=0)
    found: dict[int, set[int]] = defaultdict(set)
    for item, length_um in lines.values_list("item", "length_um").distinct():
        found[item].add(length_um)
    return found


def parts_by_output(shop: Shop) -> dict[int, set[int]]:
    """Which items each output is made from, by the recipes in use. 1 query."""
    below: dict[int, set[int]] = defaultdict(set)
    lines = RecipeLine.objects.filter(recipe__shop=shop, recipe__is_in_use=True)
    for output, item in lines.values_list("recipe__output", "item"):
        below[output].add(item)
    return below


def explode(recipes: Mapping[int, Recipe], wanted: Mapping[int, int]) -> Explosion:
    """What the wanted sets come to, all the way down, with nothing on hand. No queries.

    Half-made things are made whole: a recipe for four that is needed for five runs twice.
    """
    told = Explosion()
    for item, count in wanted.items():
        told.quantities[item] += count
    for output in _from_the_top(recipes):
        recipe, started = recipes[output], told.quantities[output]
        if not started:
            continue
        # Rounded at every level and not once at the end: a bent rod cannot be half bent.
        whole = (started / recipe.quantity).to_integral_value(ROUND_CEILING)
        for line in recipe.lines.all():
            told.quantities[line.item_id] += line.quantity * whole
            if line.length_um:
                spot = (output, line.length_um)
                told.pieces[line.item_id][spot] += line.quantity * whole
    return told


def pieces_wanted(
    material: Item, recipes: Mapping[int, Recipe], wanted: Mapping[int, int]
) -> list[PieceWanted]:
    """Pieces of the material that so many sets take, longest first. No queries.

    ``per_set`` is what one set takes when a single kind is wanted, else 0.
    """
    gross = explode(recipes, wanted).pieces[material.pk]
    kinds = [item for item, count in wanted.items() if count]
    # With two kinds of set no one count would be true of both.
    one = explode(recipes, {kinds[0]: 1}).pieces[material.pk] if len(kinds) == 1 else {}
    found = [
        PieceWanted(recipes[output].output, length, int(count), int(one.get((output, length), 0)))
        for (output, length), count in gross.items()
    ]
    return sorted(found, key=lambda piece: (-piece.length_um, piece.made_into.name))


def _from_the_top(recipes: Mapping[int, Recipe]) -> Iterable[int]:
    """Outputs such that each comes before everything it is made from."""
    # What is finished last stands nearest the top, so the list is read from its end.
    done: set[int] = set()
    order: list[int] = []

    # Goes as deep as things are put together, four or five levels: no danger for the stack.
    def visit(output: int) -> None:
        if output in done or output not in recipes:
            return
        done.add(output)
        for line in recipes[output].lines.all():
            visit(line.item_id)
        order.append(output)

    for output in recipes:
        visit(output)
    return reversed(order)
