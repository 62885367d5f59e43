"""The forms of build sheets: the sheet itself, its roll, fit, legs and joints.

Fields are called as ``geometry.sheet`` calls them, so that what is typed is what is kept.
"""

from __future__ import annotations

from typing import Any, ClassVar

from django import forms
from django.forms.formsets import DELETION_FIELD_NAME

from inventory.materials.models import Item
from inventory.measures.lengths import Units
from inventory.places.models import Shop
from workshops.common.fields import LengthField
from workshops.stations.models import BuildSheet, Part
from workshops.stations.rows import Rows


class NewSheetForm(forms.Form):
    """A new drawing."""

    name = forms.CharField(label="Name", max_length=80)
    drawing_number = forms.CharField(label="Drawing number", max_length=20)
    set_item = forms.ModelChoiceField(
        Item.objects.none(), label="Complete set", help_text="The item that this drawing makes."
    )

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        sets = Item.objects.filter(shop=shop, kind=Item.Kind.SET)
        self.fields["set_item"].queryset = sets  # type: ignore[attr-defined]


class PutPartForm(forms.Form):
    """A part on the sheet, so many a set."""

    part = forms.ModelChoiceField(Part.objects.none(), label="Part")
    per_set = forms.IntegerField(label="In one set", min_value=1, max_value=200, initial=1)

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        parts = Part.objects.filter(shop=shop)
        self.fields["part"].queryset = parts  # type: ignore[attr-defined]


class AllOrNone(forms.Form):
    """A group of values that are all there, or of which none is."""

    may_miss: ClassVar[frozenset[str]] = frozenset()
    use_required_attribute = False

    def clean(self) -> dict[str, Any]:
        """Ask for the values that miss once one of them is given."""
        cleaned: dict[str, Any] = super().clean() or {}
        if any(not _is_empty(value) for name, value in cleaned.items() if self._counts(name)):
            for name in self.fields:
                is_missing = name in cleaned and _is_empty(cleaned[name])
                if is_missing and name not in self.may_miss:
                    self.add_error(name, "This is needed with the others.")
        return cleaned

    def plain(self) -> dict[str, Any] | None:
        """The values as the sheet keeps them, or None when none is given."""
        given = {
            name: value
            for name, value in self.cleaned_data.items()
            if not _is_empty(value) and name != DELETION_FIELD_NAME
        }
        return given if any(self._counts(name) for name in given) else None

    def _counts(self, name: str) -> bool:
        """Whether the field says that the group is there; one that may miss does not."""
        return name not in self.may_miss and name != DELETION_FIELD_NAME


def _is_empty(value: Any) -> bool:
    return value is None or value == ""


def _lengths(form: forms.Form, units: Units, **labels: str) -> None:
    for name, label in labels.items():
        form.fields[name] = LengthField(units=units, label=label, required=False)


def _number(label: str, least: int, most: int) -> forms.IntegerField:
    return forms.IntegerField(label=label, min_value=least, max_value=most, required=False)


class SheetForm(forms.ModelForm[BuildSheet]):
    """What a draft is called, and a note."""

    class Meta:
        model = BuildSheet
        fields = ["name", "note"]
        widgets = {"note": forms.Textarea({"rows": 2})}


class RollForm(AllOrNone):
    """The roll: wire piece, first turn, straw layer, rings, fill."""

    may_miss = frozenset({"straw_g_per_litre", "hay_g_per_litre"})

    def __init__(self, *args: Any, units: Units, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        _lengths(
            self, units, piece_length_um="Length of the wire piece", width_um="Its width",
            mesh_long_um="Mesh, the wider way", mesh_short_um="Mesh, the closer way",
            wire_um="Thickness of the wire", ring_um="First turn, around",
            layer_um="Straw layer",
        )  # fmt: skip
        self.fields["rings_min"] = _number("Hog rings, at least", 1, 100)
        self.fields["rings_max"] = _number("Hog rings, at most", 1, 100)
        self.fields["fill_percent"] = _number("Inside filled with hay, in a hundred", 1, 100)
        self.fields["straw_g_per_litre"] = _number("Straw as packed, grams a litre", 1, 1000)
        self.fields["hay_g_per_litre"] = _number("Hay as packed, grams a litre", 1, 1000)


class OfParts(AllOrNone):
    """A group that names parts of the sheet by the slug of their item."""

    naming: ClassVar[dict[str, str]] = {}

    def __init__(
        self, *args: Any, units: Units, parts: list[tuple[str, str]], **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        for name, label in self.naming.items():
            self.fields[name] = forms.ChoiceField(
                label=label, choices=[("", "–"), *parts], required=False
            )
        self.add_sizes(units)

    def add_sizes(self, units: Units) -> None:
        """The fields beside the parts."""


class FitForm(OfParts):
    """What slides into what, and with which pin."""

    naming = {"inner": "This slides", "outer": "into this"}
    may_miss = frozenset({"clearance_um"})

    def add_sizes(self, units: Units) -> None:
        """Play and pin."""
        _lengths(self, units, clearance_um="with play of", pin_um="Pin or bolt")

    def plain(self) -> dict[str, Any] | None:
        """No play asked for is a play of nothing."""
        given = super().plain()
        return {"clearance_um": 0, **given} if given else None


class LegsForm(OfParts):
    """Legs in place of a post."""

    naming = {"part": "Leg"}

    def add_sizes(self, units: Units) -> None:
        """How many, and how far they lean."""
        del units
        self.fields["count"] = _number("How many", 3, 6)
        self.fields["lean_deg"] = _number("Lean from upright, degrees", 1, 60)


class JointForm(OfParts):
    """One weld or bolted joint; positions before bending."""

    naming = {"part": "This part", "onto": "is held on"}
    may_miss = frozenset({"note", "kind"})

    def add_sizes(self, units: Units) -> None:
        """Where on both, how, and what is said beside it."""
        _lengths(self, units, at_um="at, from its end A", part_at_um="and at, on this part")
        kinds = [("weld", "weld"), ("bolt", "bolt")]
        self.fields["kind"] = forms.ChoiceField(label="How", choices=kinds, required=False)
        self.fields["note"] = forms.CharField(label="Note", max_length=60, required=False)


JointFormSet = forms.formset_factory(JointForm, formset=Rows, extra=2, can_delete=True, max_num=40)
