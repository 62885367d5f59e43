"""``items.json`` and ``recipes.json``: what is counted, where it lies, what it is made from."""

from __future__ import annotations

from decimal import Decimal

from inventory.materials.models import Item, Recipe, RecipeLine
from inventory.places.models import Place, Room, Shop
from workshops.home.demo.files import Row, kept, length, lengths, read


def load_items(shop: Shop) -> dict[str, Item]:
    """Every item by its slug, each with its home."""
    found = read("items")
    rooms = {room.name: room for room in Room.objects.filter(shop=shop)}
    Place.objects.bulk_create(
        Place(
            shop=shop, name=row["name"], room=rooms.get(row.get("room", "")), note=row["note"]
        )
        for row in found["places"]
    )  # fmt: skip
    places = {place.name: place for place in Place.objects.filter(shop=shop)}
    items = [_item(shop, places, row) for row in found["items"]]
    return {item.slug: item for item in Item.objects.bulk_create(items)}


def _item(shop: Shop, places: dict[str, Place], row: Row) -> Item:
    plain = kept(
        row, "slug", "name", "kind", "unit", "rack_limit", "shape", "mesh", "supplier",
        "pack_size", "pack_name", "lead_days", "is_one_chance", "size", "group", "bale_weight_g",
        "loose_g_per_litre",
    )  # fmt: skip
    sizes = lengths(
        row, "outside", "wall", "wire", "kerf", "trim", "keep", "bought_length", "bale_length",
        "bale_width", "bale_height",
    )  # fmt: skip
    price = Decimal(row["unit_price"]) if "unit_price" in row else None
    return Item(shop=shop, home=places[row["home"]], unit_price=price, **plain, **sizes)


def load_recipes(shop: Shop, items: dict[str, Item]) -> dict[str, Recipe]:
    """Every recipe by the slug of what it makes."""
    rows = read("recipes")["recipes"]
    made = Recipe.objects.bulk_create(
        Recipe(shop=shop, name=row["name"], output=items[row["output"]]) for row in rows
    )
    recipes = {recipe.output.slug: recipe for recipe in made}
    RecipeLine.objects.bulk_create(
        RecipeLine(
            recipe=recipes[row["output"]], item=items[use["item"]],
            quantity=Decimal(use["quantity"]),
            length_um=length(use["length"]) if "length" in use else 0,
        )
        for row in rows
        for use in row["uses"]
    )  # fmt: skip
    return recipes
