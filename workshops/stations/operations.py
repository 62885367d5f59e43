"""Operations: a parts list done at a station, with the time it takes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django.db import transaction
from django.utils.text import slugify

from inventory.materials.actions import NewPart, set_recipe
from inventory.materials.models import Item, Recipe
from inventory.materials.queries import recipe_of
from workshops.stations.models import Operation, Station
from workshops.stations.refusals import NotOfThisShop, StationsRefused
from workshops.stations.writing import check, fill

FIELDS = frozenset({
    "name", "recipe", "part", "sheet", "sequence", "is_in_use", "minutes_per_piece", "first_piece",
    "check_every", "gauge", "bad_piece",
})  # fmt: skip


@transaction.atomic
def add_operation(*, station: Station, fields: Mapping[str, Any]) -> Operation:
    """A new operation of the station.

    Raises
    ------
    UnknownField, NotOfThisShop, StationsRefused
        Naming the field and what to do.
    """
    slug = slugify(str(fields.get("name", "")))[:60]
    taken = Operation.objects.filter(shop_id=station.shop_id, slug=slug)
    if not slug or taken.exists():
        raise StationsRefused("Name: an operation is called that already; add a word.", "name")
    return _write(Operation(shop_id=station.shop_id, station=station, slug=slug), fields)


@transaction.atomic
def edit_operation(*, operation: Operation, fields: Mapping[str, Any]) -> Operation:
    """The operation with those facts changed; its address stays.

    Raises
    ------
    UnknownField, NotOfThisShop, StationsRefused
        Naming the field and what to do.
    """
    return _write(operation, fields)


@transaction.atomic
def set_parts_list(*, output: Item, parts: Sequence[NewPart], quantity: int = 1) -> Recipe:
    """Put a parts list in use; the operation that followed the one before follows this one.

    Raises
    ------
    RecipeRefused
        Saying which line cannot be followed, and why.
    """
    before = recipe_of(output)
    now = set_recipe(output=output, parts=parts, quantity=quantity)
    # Else the next tally would still take what the old list says.
    Operation.objects.filter(recipe=before).update(recipe=now)
    return now


def _write(operation: Operation, fields: Mapping[str, Any]) -> Operation:
    fill(operation, fields, FIELDS)
    for name in ("recipe", "part", "sheet"):
        chosen = getattr(operation, name) if getattr(operation, f"{name}_id") else None
        if chosen is not None and chosen.shop_id != operation.shop_id:
            raise NotOfThisShop(f"{name.capitalize()}: choose one of this shop.", name)
    check(operation)
    operation.save()
    return operation
