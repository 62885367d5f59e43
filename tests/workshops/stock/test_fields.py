"""Lengths as people type them, and items to choose from."""

from __future__ import annotations

import pytest
from django.core.exceptions import ValidationError

from inventory.materials.models import Item
from inventory.measures.lengths import Units, feet, inches, millimetres
from workshops.stock.fields import ItemSelect, LengthField, grouped


@pytest.mark.parametrize(
    ("typed", "micrometres"),
    [("34", inches(34)), (" 8 ft 6 in ", inches(102)), ("610 mm", millimetres(610)), ("", None)],
)
def test_a_typed_length_becomes_micrometres(typed: str, micrometres: int | None) -> None:
    assert LengthField(required=False).clean(typed) == micrometres


def test_a_bare_number_is_in_the_shops_units() -> None:
    assert LengthField(units=Units.MILLIMETRE).clean("610") == millimetres(610)


def test_no_length_is_refused_with_examples() -> None:
    with pytest.raises(ValidationError, match="8 ft 6 in"):
        LengthField().clean("about so long")


def test_what_was_typed_is_shown_again_and_what_is_kept_is_spelled() -> None:
    field = LengthField()
    assert field.prepare_value("about so long") == "about so long"
    assert field.prepare_value(feet(20)) == "240 in"


def test_items_are_chosen_under_their_groups_with_one_marked() -> None:
    items = [
        Item(pk=1, name="Tube", kind=Item.Kind.METAL),
        Item(pk=2, name="<b>Hay</b>", kind=Item.Kind.FILL),
    ]
    drawn = ItemSelect(choices=grouped(items, "choose")).render("item", 2, {"id": "id_item"})
    assert '<select id="id_item" name="item">' in drawn
    assert '<optgroup label="Metal"><option value="1">Tube</option></optgroup>' in drawn
    assert '<option value="2" selected>&lt;b&gt;Hay&lt;/b&gt;</option>' in drawn
