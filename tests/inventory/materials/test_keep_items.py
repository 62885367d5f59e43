"""Many items added and described at once: all of them, or none."""

from __future__ import annotations

import pytest
from django.core.exceptions import ValidationError

from inventory.materials.actions import keep_items
from inventory.materials.models import Item
from tests.factories import make_item, make_place


def new(shop, slug: str, **fields: object) -> Item:
    return Item(shop=shop, slug=slug, **({"name": slug.title(), "kind": "small"} | fields))


def test_new_and_changed_items_are_kept_in_few_queries(shop, django_assert_max_num_queries) -> None:
    item = make_item(shop, supplier="Hill Farm")
    with django_assert_max_num_queries(8):
        keep_items(new=[new(shop, f"a-{n}") for n in range(50)],
                   changed=[(item, {"supplier": "", "keep_at_least": 4})])  # fmt: skip
    item.refresh_from_db()
    assert (item.supplier, item.keep_at_least) == ("", 4)
    assert Item.objects.filter(shop=shop, slug__startswith="a-").count() == 50


@pytest.mark.parametrize(
    "fields", [{"slug": "taken"}, {"name": ""}, {"kind": "moon"}, {"wall_um": 9, "outside_um": 10}]
)
def test_one_that_cannot_be_keeps_all_of_them_out(shop, fields) -> None:
    make_item(shop, slug="taken")
    with pytest.raises(ValidationError):
        keep_items(new=[new(shop, "good"), new(shop, **({"slug": "bad"} | fields))], changed=[])
    assert not Item.objects.filter(slug="good").exists()


def test_a_home_in_another_shop_is_refused(shop, other_shop) -> None:
    with pytest.raises(ValidationError, match="belongs to another shop"):
        keep_items(new=[new(shop, "a", home=make_place(other_shop))], changed=[])


def test_kind_and_key_stay(shop) -> None:
    with pytest.raises(TypeError, match="kind of an item is not changed"):
        keep_items(new=[], changed=[(make_item(shop), {"kind": "set"})])
