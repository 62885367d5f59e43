"""Describing what is counted and what it is made from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction
from django.utils.text import slugify

from inventory.materials.models import Item, Recipe, RecipeLine
from inventory.materials.queries import parts_by_output
from inventory.places.models import Shop

AT_ONCE = 200  # rows of one statement: more of them make the database think longer


class RecipeRefused(ValueError):
    """A parts list that cannot be followed; the sentence says which line and why."""


@dataclass(frozen=True, slots=True)
class NewPart:
    """One thing a recipe consumes: a quantity, or pieces of a length."""

    item: Item
    quantity: Decimal
    length_um: int = 0


def add_item(*, shop: Shop, name: str, kind: str, slug: str = "", **fields: Any) -> Item:
    """A new item of the shop, checked field by field.

    Raises
    ------
    ValidationError
        Naming the field that is wrong.
    TypeError
        For a field that items do not have.
    """
    # With the size: gloves M and gloves L are two things that the book counts apart.
    address = slug or slugify(f"{name} {fields.get('size', '')}")[:60]
    item = Item(shop=shop, name=name, kind=kind, slug=address, **fields)
    if not item.slug or Item.objects.filter(shop=shop, slug=item.slug).exists():
        raise ValidationError({"name": "An item is called that already: add a word to it."})
    return _checked(item)


def edit_item(*, item: Item, **fields: Any) -> Item:
    """The item described anew; its kind and address stay, for the book counts it by them.

    Raises
    ------
    ValidationError
        Naming the field that is wrong.
    TypeError
        For a field that items do not have, or that does not change.
    """
    _describe(item, fields)
    return _checked(item)


@transaction.atomic
def keep_items(*, new: Sequence[Item], changed: Sequence[tuple[Item, Mapping[str, Any]]]) -> None:
    """Add and describe many items at once: all of them, or none.

    Fields are checked one by one as for a single item; what must hold between items is
    left to the database, which asks once and not four times a row.

    Raises
    ------
    ValidationError
        Naming the field that is wrong.
    TypeError
        For a field that items do not have, or that does not change.
    """
    fields = {name for _, given in changed for name in given}
    for item, given in changed:
        _describe(item, given)
    edited = [item for item, _ in changed]
    for item in [*new, *edited]:
        _refuse_foreign_home(item)
        item.clean_fields(exclude=("shop", "home"))
    try:
        with transaction.atomic():
            Item.objects.bulk_create(new, batch_size=AT_ONCE)
            if fields:
                Item.objects.bulk_update(edited, sorted(fields), batch_size=AT_ONCE)
    except IntegrityError as wrong:
        says = "Two items would have one key, or a wall or a bale cannot be as it is given."
        raise ValidationError(says) from wrong


def _describe(item: Item, given: Mapping[str, Any]) -> None:
    for name, value in given.items():
        if name in ("kind", "slug", "shop") or not hasattr(item, name):
            raise TypeError(f"{name} of an item is not changed.")
        setattr(item, name, value)


def _checked(item: Item) -> Item:
    _refuse_foreign_home(item)
    item.full_clean()
    item.save()
    return item


def _refuse_foreign_home(item: Item) -> None:
    # The database cannot say this: two foreign keys that must agree on a third.
    if item.home is not None and item.home.shop_id != item.shop_id:
        raise ValidationError({"home": "This place belongs to another shop."})


@transaction.atomic
def set_recipe(
    *, output: Item, parts: Sequence[NewPart], quantity: int = 1, name: str = ""
) -> Recipe:
    """Put a parts list in use for the output; the one before is kept, out of use.

    Raises
    ------
    RecipeRefused
        For a part of another shop, a length where none belongs or none where one is
        needed, the same part twice, or an output that would be needed to make itself.
    """
    if quantity < 1:
        raise RecipeRefused(f"{output}: a recipe makes at least one.")
    for part in parts:
        _refuse_part(output, part)
    # One tube in two lengths is two parts; one length twice is a slip of the pen.
    spots = [(part.item.pk, part.length_um) for part in parts]
    if len(set(spots)) < len(spots):
        raise RecipeRefused(f"{output}: the same part stands in the recipe twice.")
    _refuse_circle(output, parts)
    # The old one stays: last winter's tallies were made by it.
    Recipe.objects.filter(output=output, is_in_use=True).update(is_in_use=False)
    recipe = Recipe.objects.create(
        shop=output.shop, output=output, quantity=quantity, name=name or f"Make {output}"
    )
    RecipeLine.objects.bulk_create(
        RecipeLine(recipe=recipe, item=part.item, quantity=part.quantity, length_um=part.length_um)
        for part in parts
    )
    return recipe


def _refuse_part(output: Item, part: NewPart) -> None:
    if part.item.shop_id != output.shop_id:
        raise RecipeRefused(f"{part.item} belongs to another shop.")
    if part.quantity <= 0:
        raise RecipeRefused(f"{part.item}: the quantity must be more than nothing.")
    if part.item.is_by_length and not part.length_um:
        raise RecipeRefused(f"{part.item} is cut by length: say how long each piece is.")
    if not part.item.is_by_length and part.length_um:
        raise RecipeRefused(f"{part.item} is not cut by length: leave the length out.")
    if part.item.is_by_length and part.quantity % 1:
        raise RecipeRefused(f"{part.item}: pieces are counted whole.")


def _refuse_circle(output: Item, parts: Sequence[NewPart]) -> None:
    """Follow the parts down: none of them may need the output."""
    below: Mapping[int, set[int]] = parts_by_output(output.shop)
    # By hand and not by recursion: a circle that is already there must not hang this check.
    waiting, seen = {part.item.pk for part in parts}, set[int]()
    while waiting:
        item = waiting.pop()
        if item == output.pk:
            raise RecipeRefused(f"{output} would be needed to make itself.")
        seen.add(item)
        waiting |= below.get(item, set()) - seen
