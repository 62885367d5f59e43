"""Goods-in: what came, how much, from whom."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any
from uuid import uuid4

from django import forms

from inventory.materials.models import Item
from inventory.materials.queries import items_of
from inventory.places.models import Place, Shop
from inventory.places.queries import places_of
from workshops.stock.fields import ItemSelect, LengthField, grouped
from workshops.stock.times import today_in

BOUGHT, GIVEN = "bought", "given"


class GoodsInForm(forms.Form):
    """One item of a delivery; the next one starts with the same source."""

    item = forms.ModelChoiceField(Item.objects.none(), label="What came?", widget=ItemSelect)
    quantity = forms.DecimalField(
        label="How many?", min_value=Decimal("0.001"), max_digits=12, decimal_places=3
    )
    length = LengthField(label="How long is each?", required=False)
    came = forms.ChoiceField(
        label="Bought or given?", choices=[(BOUGHT, "bought"), (GIVEN, "given")], initial=BOUGHT
    )
    source = forms.CharField(label="From whom?", max_length=80)
    place = forms.ModelChoiceField(Place.objects.none(), label="Where is it put?", required=False)
    value = forms.DecimalField(
        label="Worth in all", required=False, min_value=Decimal(0), max_digits=10, decimal_places=2
    )
    value_basis = forms.CharField(
        label="How was the worth set?", required=False, max_length=120,
        help_text="asked for things given: a receipt, a shop's price, an estimate by whom",
    )  # fmt: skip
    on = forms.DateField(
        label="Which day?", required=False, widget=forms.DateInput(attrs={"type": "date"})
    )
    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid4)

    def __init__(self, *args: Any, shop: Shop, **rest: Any) -> None:
        super().__init__(*args, **rest)
        self.shop = shop
        items = list(items_of(shop))
        self.fields["item"].queryset = items_of(shop)  # type: ignore[attr-defined]
        self.fields["item"].choices = grouped(items, "choose")  # type: ignore[attr-defined]
        self.fields["place"].queryset = places_of(shop)  # type: ignore[attr-defined]
        self.fields["place"].empty_label = "where it is usually kept"  # type: ignore[attr-defined]
        self.fields["length"].units = shop.length_units  # type: ignore[attr-defined]
        self.fields["value"].label = f"Worth in all, {shop.currency}"
        self.fields["source"].widget.attrs |= {"list": "sources", "autocomplete": "off"}
        self.fields["quantity"].widget.attrs |= {"inputmode": "decimal"}
        chosen = {item.pk: item for item in items}.get(self._chosen_pk())
        self._speak_of(chosen)

    def _chosen_pk(self) -> int:
        raw = self["item"].value() or 0
        return int(raw) if str(raw).isdecimal() else 0

    def _speak_of(self, item: Item | None) -> None:
        """Ask only what this item needs, in its own unit."""
        if item is None:
            self.fields["length"].help_text = "for metal and wire only"
            return
        unit = "pieces" if item.is_by_length else item.unit
        self.fields["quantity"].label = f"How many? ({unit})"
        # The proposed length is the one bought; a gift is measured and typed over it.
        if not item.is_by_length:
            self.fields["length"].widget = forms.HiddenInput()
        elif item.bought_length_um:
            self.fields["length"].initial = item.bought_length_um

    def clean_on(self) -> date | None:
        """Goods do not come tomorrow."""
        day: date | None = self.cleaned_data["on"]
        if day is not None and day > today_in(self.shop):
            raise forms.ValidationError("Which day: this day has not come yet.")
        return day

    def clean(self) -> dict[str, Any]:
        """A length for metal and for nothing else; a basis for the worth of a gift."""
        given = super().clean() or {}
        item: Item | None = given.get("item")
        if item is not None:
            self._check_length(item, given)
        if given.get("came") == GIVEN and given.get("value") and not given.get("value_basis"):
            self.add_error("value_basis", "Say how the worth of the gift was set.")
        return given

    def _check_length(self, item: Item, given: dict[str, Any]) -> None:
        if not item.is_by_length:
            if given.get("length"):
                self.add_error("item", f"{item} is not held by length: leave the length empty.")
        elif "length" not in self.errors and not given.get("length"):
            self.add_error("length", f"Say how long each piece of {item} is.")
        elif given.get("quantity") and given["quantity"] % 1:
            self.add_error("quantity", f"Pieces of {item} are counted whole.")
