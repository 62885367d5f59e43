"""The form of a part, with its holes and bends."""

from __future__ import annotations

from typing import Any

from django import forms
from django.forms.formsets import BaseFormSet

from inventory.materials.models import Item
from inventory.measures.lengths import Units
from inventory.places.models import Shop
from workshops.common.fields import LengthField
from workshops.stations.models import Part
from workshops.stations.rows import Rows, rows_of


class PartForm(forms.Form):
    """A part as it is cut: from which stock, how long, measured from which end."""

    name = forms.CharField(label="Name", max_length=60)
    item = forms.ModelChoiceField(
        Item.objects.none(), label="On the rack it is", help_text="The half-made item."
    )
    stock = forms.ModelChoiceField(Item.objects.none(), label="Cut from")
    role = forms.ChoiceField(label="In the set it is the", choices=Part.Role.choices)
    end_name = forms.CharField(
        label="End A is called", max_length=40, initial="left end",
        help_text="Holes and bends are measured from it.",
    )  # fmt: skip

    def __init__(self, *args: Any, shop: Shop, part: Part | None, **kwargs: Any) -> None:
        if part is not None:
            kwargs["initial"] = {name: getattr(part, name) for name in _KEPT} | {
                "item": part.item_id, "stock": part.stock_id, "width_um": part.width_um or None,
            }  # fmt: skip
        super().__init__(*args, **kwargs)
        units = shop.length_units
        self.fields["length_um"] = LengthField(units=units, label="Length, before bending")
        self.fields["width_um"] = LengthField(
            units=units, label="Width, of a wire piece", required=False
        )
        self.fields["tolerance_um"] = LengthField(
            units=units, label="May differ by, either way", required=False
        )
        used = Part.objects.filter(shop=shop).exclude(pk=part.pk if part else 0)
        racks = Item.objects.filter(shop=shop).exclude(part__in=used)
        self.fields["item"].queryset = racks.exclude(  # type: ignore[attr-defined]
            kind__in=[Item.Kind.METAL, Item.Kind.FILL]
        )
        self.fields["stock"].queryset = Item.objects.filter(  # type: ignore[attr-defined]
            shop=shop, kind=Item.Kind.METAL
        )

    def plain(self) -> dict[str, Any]:
        """The fields as the part keeps them."""
        fields = dict(self.cleaned_data)
        fields["width_um"] = fields["width_um"] or 0
        fields["tolerance_um"] = fields["tolerance_um"] or 0
        return fields


_KEPT = ("name", "role", "end_name", "length_um", "tolerance_um")


class HoleForm(forms.Form):
    """One hole."""

    def __init__(self, *args: Any, units: Units, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["from_end_um"] = LengthField(units=units, label="From end A")
        self.fields["diameter_um"] = LengthField(units=units, label="Wide")
        self.fields["through_both"] = forms.BooleanField(
            label="Through both walls", required=False, initial=True
        )
        self.fields["is_pin"] = forms.BooleanField(label="For the height pin", required=False)
        self.fields["name"] = forms.CharField(label="Called", max_length=30, required=False)


class BendForm(forms.Form):
    """One bend."""

    def __init__(self, *args: Any, units: Units, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["at_um"] = LengthField(units=units, label="Middle, from end A")
        self.fields["angle_deg"] = forms.DecimalField(
            label="Degrees", min_value=1, max_value=180, decimal_places=1
        )
        self.fields["inside_radius_um"] = LengthField(units=units, label="Inside radius")
        self.fields["turn"] = forms.ChoiceField(
            label="To the", choices=[("left", "left"), ("right", "right")], initial="left"
        )


HoleFormSet = forms.formset_factory(HoleForm, formset=Rows, extra=2, can_delete=True, max_num=40)
BendFormSet = forms.formset_factory(BendForm, formset=Rows, extra=2, can_delete=True, max_num=20)


def bends_of(formset: BaseFormSet[Any]) -> list[dict[str, Any]]:
    """The bends as the part keeps them: an angle is a number of half degrees, no decimal."""
    return [row | {"angle_deg": float(row["angle_deg"])} for row in rows_of(formset)]
