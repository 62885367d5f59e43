"""Probing a lot: which one, how warm, how damp; the rest is folded away."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import Any
from uuid import uuid4

from django import forms

from inventory.readings.queries import Lot
from workshops.stock.straw import Watched

NOTES = 200
WORDS = 60


def _number(label: str) -> forms.DecimalField:
    field = forms.DecimalField(label=label, required=False, max_digits=5, decimal_places=1)
    field.widget.attrs |= {"inputmode": "decimal", "autocomplete": "off", "step": "0.1"}
    return field


class ValuesForm(forms.Form):
    """What thermometer and moisture probe said."""

    temperature = _number("Warmest spot")
    moisture_percent = _number("Moisture, %")
    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid4)

    def __init__(self, *args: Any, degrees: str, **rest: Any) -> None:
        super().__init__(*args, **rest)
        self.fields["temperature"].label = f"Warmest spot, °{degrees}"

    def values(self) -> dict[str, Decimal | None]:
        """The two values, ``None`` where nothing was read."""
        given = self.cleaned_data
        return {name: given[name] for name in ("temperature", "moisture_percent")}


class ReadingForm(ValuesForm):
    """Three fields on a phone: which lot, how warm, how damp."""

    lot = forms.ChoiceField(label="Which stack?")
    words = forms.CharField(
        label="Another stack there? Its name", required=False, max_length=WORDS,
        help_text="north wall, Tuesday's load; it is watched apart from then on",
    )  # fmt: skip
    probed_at = forms.DateTimeField(
        label="Probed earlier? When", required=False,
        widget=forms.DateTimeInput(attrs={"type": "datetime-local"}),
    )  # fmt: skip
    note = forms.CharField(label="Note", required=False, max_length=NOTES)

    field_order = ["lot", "temperature", "moisture_percent"]

    def __init__(self, *args: Any, rows: Sequence[Watched], **rest: Any) -> None:
        super().__init__(*args, **rest)
        self.lots: dict[str, Lot] = {row.lot.key: row.lot for row in rows}
        self.fields["lot"].choices = [  # type: ignore[attr-defined]
            (key, _called(lot)) for key, lot in self.lots.items()
        ]

    def quick(self) -> list[forms.BoundField]:
        """What is asked at the stack."""
        return [self[name] for name in ("lot", "temperature", "moisture_percent")]

    def folded(self) -> list[forms.BoundField]:
        """What is asked seldom."""
        return [self[name] for name in ("words", "probed_at", "note")]

    def has_more(self) -> bool:
        """Whether something stands in the folded fields."""
        return self.is_bound and any(field.value() or field.errors for field in self.folded())

    def chosen(self) -> Lot:
        """The lot that was probed."""
        return self.lots[self.cleaned_data["lot"]]


class CorrectForm(ValuesForm):
    """The right values, or none to take the reading back, and why."""

    reason = forms.CharField(label="Why is it corrected?", max_length=NOTES)

    field_order = ["temperature", "moisture_percent", "reason"]


def _called(lot: Lot) -> str:
    words = f", {lot.words}" if lot.words else ""
    return f"{lot.item}, {lot.place}{words}"
