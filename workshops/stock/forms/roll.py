"""Measuring a roll: across it and across its core, or with a tape."""

from __future__ import annotations

from typing import Any
from uuid import uuid4

from django import forms

from inventory.ledger.models import Balance
from inventory.ledger.queries import balances_of
from inventory.materials.models import Item
from inventory.measures.rolls import left_on_roll_um, turn_of_mesh_um
from workshops.stations.geometry.spelling import spell_thin
from workshops.stock.fields import LengthField
from workshops.stock.forms.set_aside import SpotField

WOUND = ("outside", "core", "thickness")


class RollForm(forms.Form):
    """Which roll, and how it was measured."""

    spot = SpotField(Balance.objects.none(), label="Which roll?")
    reason = forms.CharField(label="Note", required=False, max_length=160)
    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid4)

    def __init__(self, *args: Any, item: Item, **rest: Any) -> None:
        super().__init__(*args, **rest)
        units = item.shop.length_units
        spots = balances_of(item).select_related("place", "item__shop")
        self.fields["spot"].queryset = spots  # type: ignore[attr-defined]
        labels = {
            "outside": "Across the roll", "core": "Across the core",
            "thickness": "One turn is so thick", "tape": "Or measured with a tape",
        }  # fmt: skip
        for name, label in labels.items():
            self.fields[name] = LengthField(units=units, label=label, required=False)
        if item.wire_um:
            # Spelled in thousandths: the nearest 1/32 would be out by metres of wire.
            thick = spell_thin(turn_of_mesh_um(item.wire_um), units)
            self.fields["thickness"].initial = thick
        self.fields[
            "thickness"
        ].help_text = (
            "Two wires where they cross at least. Closer: measure ten turns, take a tenth."
        )
        self.order_fields(["spot", *WOUND, "tape", "reason", "key"])

    def clean(self) -> dict[str, Any]:
        """Either a tape, or all three measures of the wound roll."""
        given = super().clean() or {}
        if self.errors:
            return given
        if given.get("tape"):
            given["left"] = given["tape"]
            return given
        missing = [name for name in WOUND if not given.get(name)]
        for name in missing:
            self.add_error(name, "Measure it, or give the length by tape.")
        if not missing:
            self._work_out(given)
        return given

    def _work_out(self, given: dict[str, Any]) -> None:
        sizes = (given["core"], given["outside"], given["thickness"])
        try:
            given["left"] = left_on_roll_um(*sizes)
        except ValueError:
            self.add_error("outside", "The roll must be larger than its core.")

    def told(self) -> str:
        """How it was measured, for the book."""
        given = self.cleaned_data
        how = "by tape" if given.get("tape") else "by its diameters"
        note = given["reason"].strip()
        return f"measured {how}: {note}" if note else f"measured {how}"
