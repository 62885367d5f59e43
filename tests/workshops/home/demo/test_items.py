"""What is counted: everything made comes from something bought."""

from __future__ import annotations

from inventory.materials.models import Item, Recipe
from inventory.places.models import Place, Shop


def bought_for(item: Item) -> set[Item]:
    """The materials into which an item explodes."""
    recipe = Recipe.objects.filter(output=item, is_in_use=True).first()
    if recipe is None:
        return {item}
    return {part for line in recipe.lines.all() for part in bought_for(line.item)}


def test_every_set_explodes_into_bought_materials(demo: Shop) -> None:
    sets = Item.objects.filter(shop=demo, kind=Item.Kind.SET)
    assert sets.count() == 4
    for item in sets:
        materials = bought_for(item)
        assert len(materials) >= 8
        assert not {part.kind for part in materials} & {Item.Kind.RACK, Item.Kind.SET}


def test_everything_half_made_has_one_recipe_done_at_one_station(demo: Shop) -> None:
    made = Item.objects.filter(shop=demo, kind__in=[Item.Kind.RACK, Item.Kind.SET])
    assert made.count() == 23
    for item in made:
        assert item.recipes.get().operation.station.shop == demo


def test_whatever_is_bought_is_used_or_worn(demo: Shop) -> None:
    bought = Item.objects.filter(shop=demo, recipes=None)
    unused = {item.slug for item in bought if not item.used_in.exists()}
    assert unused == {"leather-gloves", "leather-gloves-s", "dust-mask", "contact-tip"}


def test_what_is_cut_says_how_much_of_which_stick(demo: Shop) -> None:
    recipes = Recipe.objects.filter(shop=demo)
    assert recipes
    for recipe in recipes:
        for line in recipe.lines.all():
            assert bool(line.length_um) == line.item.is_by_length
            assert line.length_um <= (line.item.bought_length_um or 0)


def test_everything_has_its_place_and_no_place_is_without_use(demo: Shop) -> None:
    assert not Item.objects.filter(shop=demo, home=None).exists()
    assert not Place.objects.filter(shop=demo, item=None).exists()


def test_straw_and_hay_can_be_bought_once_a_year_only(demo: Shop) -> None:
    once = Item.objects.filter(shop=demo, is_one_chance=True).values_list("kind", flat=True)
    assert list(once) == [Item.Kind.FILL, Item.Kind.FILL]
