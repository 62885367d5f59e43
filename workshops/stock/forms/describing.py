"""What an item is, what it is made from, and where things lie."""

from __future__ import annotations

from decimal import Decimal
from typing import Any, ClassVar

from django import forms
from django.forms import BoundField

from inventory.materials.actions import NewPart
from inventory.materials.models import Item, Recipe
from inventory.places.models import Room, Shop
from inventory.places.queries import places_of, rooms_of
from workshops.common.fields import LengthField
from workshops.stock.fields import ItemSelect, WeightField, grouped

LENGTHS = {
    "outside_um": "Side or diameter", "wall_um": "Wall", "wire_um": "Wire of the mesh",
    "kerf_um": "One cut takes", "trim_um": "Cut off each end first",
    "keep_um": "Drops are kept from", "bought_length_um": "Bought so long",
    "bale_length_um": "Bale, length", "bale_width_um": "Bale, width",
    "bale_height_um": "Bale, height",
}  # fmt: skip
ZERO_WHEN_EMPTY = ("kerf_um", "trim_um", "keep_um")
ROWS = 12  # lines of a parts list; no half-made thing in a shop takes more

OF_ALL = ("name", "size", "kind", "unit", "home", "keep_at_least")
SECTION = ("shape", "outside_um", "wall_um", "wire_um", "mesh",
           "kerf_um", "trim_um", "keep_um", "bought_length_um")  # fmt: skip
BALES = ("bale_length_um", "bale_width_um", "bale_height_um", "bale_weight_g", "loose_g_per_litre")
BUYING = ("supplier", "pack_size", "pack_name", "lead_days", "unit_price")
SELDOM = ("is_one_chance", "last_order_on")
# Only what fits the kind is asked: a half-made post has no supplier and a bale no wall.
OF_KIND: dict[str, tuple[str, ...]] = {
    Item.Kind.METAL: (*SECTION, *BUYING, *SELDOM),
    Item.Kind.FILL: (*BALES, *BUYING, *SELDOM),
    Item.Kind.SMALL: ("group", *BUYING, *SELDOM),
    Item.Kind.RACK: ("rack_limit",),
    Item.Kind.SET: (),
}


class PlaceForm(forms.Form):
    """A rack, a shelf, the loft."""

    name = forms.CharField(label="Name", max_length=60, help_text="tube rack, loft, drawers")
    room = forms.ModelChoiceField(
        Room.objects.none(), label="In which room?", required=False, empty_label="none of them"
    )

    def __init__(self, *args: Any, shop: Shop, **rest: Any) -> None:
        super().__init__(*args, **rest)
        self.fields["room"].queryset = rooms_of(shop)  # type: ignore[attr-defined]


class ItemForm(forms.ModelForm[Item]):
    """One thing that the shop counts: its name, its section, how it is cut and bought.

    ``kind`` decides which fields there are; without a known kind only the common ones.
    """

    class Meta:
        model = Item
        fields = [*OF_ALL, "rack_limit", "group", *SECTION, *BALES, *BUYING, *SELDOM]
        labels = {
            "kind": "What is it?", "unit": "Counted in", "home": "Kept at",
            "keep_at_least": "Short when there are fewer than", "rack_limit": "Rack holds",
            "group": "Which supplies?", "shape": "Section", "mesh": "Mesh",
            "loose_g_per_litre": "Shaken loose, grams a litre", "pack_size": "In a pack",
            "pack_name": "A pack is called", "lead_days": "Days from order to here",
            "unit_price": "Price of one", "is_one_chance": "Bought once a year",
            "last_order_on": "Last day to order",
        }  # fmt: skip
        help_texts = {"keep_at_least": "", "unit_price": "", "shape": "", "group": ""}
        widgets: ClassVar[dict[str, Any]] = {
            "last_order_on": forms.DateInput(attrs={"type": "date"}),
            "kind": forms.HiddenInput(),
        }

    def __init__(self, *args: Any, shop: Shop, kind: str = "", **rest: Any) -> None:
        super().__init__(*args, **rest)
        for name, label in LENGTHS.items():
            self.fields[name] = LengthField(units=shop.length_units, label=label, required=False)
        self.fields["bale_weight_g"] = WeightField(units=shop.length_units, label="A bale weighs")
        for name in ZERO_WHEN_EMPTY:
            # Nothing is left out and not spelled: no length is nothing.
            self.initial[name] = self.initial.get(name) or None
        self.fields["home"].queryset = places_of(shop)  # type: ignore[attr-defined]
        self.fields["home"].empty_label = "no place of its own"  # type: ignore[attr-defined]
        # What lies in the book by length cannot be counted by the piece from tomorrow.
        if self.instance.pk:
            self.fields["kind"].disabled = True
        self.kind = self.instance.kind or kind
        self.initial.setdefault("kind", self.kind)
        for name in set(self.fields) - {*OF_ALL, *OF_KIND.get(self.kind, ())}:
            del self.fields[name]

    def clean(self) -> dict[str, Any]:
        """Metal says how it is bought; lengths left empty are nothing; a bale is whole."""
        given = super().clean() or {}
        for name in ZERO_WHEN_EMPTY:
            if name in self.fields:
                given[name] = given.get(name) or 0
        is_metal = given.get("kind") == Item.Kind.METAL
        if is_metal and not given.get("shape") and "shape" not in self.errors:
            self.add_error("shape", "Choose its section: it is cut from by length.")
        if given.get("pack_size") == 0:
            self.add_error("pack_size", "A pack holds one at least.")
        outside, wall = given.get("outside_um"), given.get("wall_um")
        if wall and (not outside or wall * 2 >= outside):
            self.add_error("wall_um", "Must be less than half of the side or diameter.")
        self._ask_for_a_whole_bale(given)
        return given

    def _ask_for_a_whole_bale(self, given: dict[str, Any]) -> None:
        asked = [name for name in BALES[:4] if name in self.fields and name not in self.errors]
        if any(given.get(name) for name in asked):
            for name in asked:
                if not given.get(name):
                    self.add_error(name, "A bale has three sizes and a weight: give all four.")

    def _shown(self, names: tuple[str, ...]) -> list[BoundField]:
        return [self[name] for name in names if name in self.fields]

    def of_every_item(self) -> list[BoundField]:
        """What is asked of everything."""
        return self._shown((*OF_ALL, "group", "rack_limit"))

    def of_metal(self) -> list[BoundField]:
        """Section and cutting."""
        return self._shown(SECTION)

    def of_fill(self) -> list[BoundField]:
        """The bale."""
        return self._shown(BALES)

    def of_buying(self) -> list[BoundField]:
        """Who sells it, in what, how long it takes."""
        return self._shown(BUYING)

    def seldom(self) -> list[BoundField]:
        """What only seasonal goods need; folded away for the others."""
        return self._shown(SELDOM)

    def kind_words(self) -> str:
        """What kind of thing is described: ``Straw and hay.``"""
        words = dict(Item.Kind.choices).get(self.kind)
        return f"{str(words).capitalize()}." if words else ""

    def is_seasonal(self) -> bool:
        """Whether the seasonal fields stand open."""
        return self.kind == Item.Kind.FILL or any(field.errors for field in self.seldom())


class PartsListForm(forms.Form):
    """What making so many of one item takes; rows without an item are left out."""

    makes = forms.IntegerField(
        label="It makes how many at once?", min_value=1, max_value=10_000, initial=1
    )

    def __init__(self, *args: Any, output: Item, recipe: Recipe | None, items: list[Item],
                 **rest: Any) -> None:  # fmt: skip
        super().__init__(*args, **rest)
        self.items = {str(item.pk): item for item in items if item.pk != output.pk}
        lines = list(recipe.lines.all()) if recipe else []
        if recipe:
            self.fields["makes"].initial = recipe.quantity
        choices = grouped(self.items.values(), "nothing")
        for n in range(max(ROWS, len(lines))):
            line = lines[n] if n < len(lines) else None
            self.fields[f"item{n}"] = forms.ChoiceField(
                label="Takes", required=False, choices=choices, widget=ItemSelect,
                initial=str(line.item_id) if line else "",
            )  # fmt: skip
            self.fields[f"quantity{n}"] = forms.DecimalField(
                label="How many", required=False, min_value=Decimal("0.001"), max_digits=12,
                decimal_places=3, initial=line.quantity.normalize() if line else None,
            )  # fmt: skip
            self.fields[f"length{n}"] = LengthField(
                units=output.shop.length_units, label="Each so long", required=False,
                initial=(line.length_um or None) if line else None,
            )  # fmt: skip
        self.rows = max(ROWS, len(lines))

    def table(self) -> list[tuple[BoundField, BoundField, BoundField]]:
        """Row by row: item, quantity, length."""
        return [
            (self[f"item{n}"], self[f"quantity{n}"], self[f"length{n}"]) for n in range(self.rows)
        ]

    def clean(self) -> dict[str, Any]:
        """A row with an item has a quantity; metal has a length, and nothing else has one."""
        given = super().clean() or {}
        for n in range(self.rows):
            item = self.items.get(given.get(f"item{n}") or "")
            if item is None:
                if given.get(f"quantity{n}") and f"item{n}" not in self.errors:
                    self.add_error(f"item{n}", "Choose what is taken, or empty the row.")
                continue
            self._ask_for(f"quantity{n}", "Say how many.")
            if item.is_by_length:
                self._ask_for(f"length{n}", f"Say how long: {item.name} is cut by length.")
        return given

    def _ask_for(self, name: str, says: str) -> None:
        if not self.cleaned_data.get(name) and name not in self.errors:
            self.add_error(name, says)

    def parts(self) -> list[NewPart]:
        """The rows as a parts list takes them."""
        given = self.cleaned_data
        return [
            NewPart(self.items[given[f"item{n}"]], given[f"quantity{n}"],
                    given.get(f"length{n}") or 0)
            for n in range(self.rows)
            if given.get(f"item{n}")
        ]  # fmt: skip


def kept_fields(form: ItemForm) -> dict[str, Any]:
    """What an item keeps of the form: everything but the kind, which never changes."""
    return {name: value for name, value in form.cleaned_data.items() if name != "kind"}
