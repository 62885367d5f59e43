"""A fate for everything that lies by the old drawing: three boxes and a reason for each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any
from uuid import uuid4

from django import forms
from django.forms import BoundField
from django.http import QueryDict

from inventory.ledger.refusals import plain
from inventory.materials.models import Item
from workshops.stock.cut_over.fates import Fate, Lying

REASON_MOST = 120
FATES = {"use_up": "Use up", "rework": "Rework", "scrap": "Scrap"}


@dataclass(frozen=True, slots=True)
class Row:
    """One spot with its boxes."""

    spot: Lying
    boxes: list[BoundField]
    reason: BoundField
    seen: BoundField
    error: str


class FatesForm(forms.Form):
    """The boxes of every spot; what lay there when the page was opened goes with them."""

    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid4)

    def __init__(self, *args: Any, lying: tuple[Lying, ...], **rest: Any) -> None:
        super().__init__(*args, **rest)
        self.lying = lying
        self.spot_errors: dict[str, str] = {}
        for spot in lying:
            for name, label in FATES.items():
                self.fields[f"{name}-{spot.key}"] = _box(label, spot)
            if spot.item.kind == Item.Kind.SET:
                # A complete set has its own mates: it goes out as it is, unless somebody says no.
                self.fields[f"use_up-{spot.key}"].initial = plain(spot.quantity)
            self.fields[f"reason-{spot.key}"] = forms.CharField(
                label="Why?", required=False, max_length=REASON_MOST
            )
            self.fields[f"seen-{spot.key}"] = forms.DecimalField(
                widget=forms.HiddenInput, required=False, initial=plain(spot.quantity)
            )

    def rows(self) -> Iterator[Row]:
        """Spot by spot."""
        for spot in self.lying:
            yield Row(
                spot,
                [self[f"{name}-{spot.key}"] for name in FATES],
                self[f"reason-{spot.key}"],
                self[f"seen-{spot.key}"],
                self.spot_errors.get(spot.key, ""),
            )

    def fates(self) -> dict[str, Fate]:
        """What was decided; spots that the page did not show have been seen with nothing."""
        given = self.cleaned_data
        return {spot.key: self._fate(spot.key, given) for spot in self.lying}

    def note(self, spots: Mapping[str, str]) -> None:
        """What is wrong with single spots, to be said beside them."""
        self.spot_errors |= spots

    def see_anew(self) -> None:
        """What lies there now is what the next press is about; the fates typed so far stay."""
        data = QueryDict(mutable=True)
        data.update(self.data)
        for spot in self.lying:
            data[f"seen-{spot.key}"] = plain(spot.quantity)
        self.data = data

    def _fate(self, key: str, given: dict[str, Any]) -> Fate:
        numbers = {name: given.get(f"{name}-{key}") or Decimal() for name in FATES}
        seen = given.get(f"seen-{key}") or Decimal()
        return Fate(seen, reason=given.get(f"reason-{key}") or "", **numbers)


def _box(label: str, spot: Lying) -> forms.DecimalField:
    field = forms.DecimalField(
        label=label, required=False, min_value=Decimal(0), max_digits=12, decimal_places=3
    )
    field.widget.attrs |= {"inputmode": "numeric", "class": "form-control", "autocomplete": "off"}
    field.widget.attrs["aria-label"] = f"{label}: {spot}"
    return field
