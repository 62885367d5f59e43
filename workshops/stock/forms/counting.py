"""Counting a place: a box for each thing that lies there, and room for what nobody booked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any
from uuid import uuid4

from django import forms
from django.forms import BoundField

from inventory.ledger.actions import Counted
from inventory.ledger.models import Balance, Condition
from inventory.materials.models import Item
from inventory.materials.queries import items_of
from inventory.places.models import Shop
from workshops.stock.fields import WHOLE, CountField, ItemSelect, LengthField, grouped, is_whole

FOUND = 3  # rows for things found that the book does not know here


class CountForm(forms.Form):
    """What was counted, row by row; an empty box was not counted."""

    reason = forms.CharField(
        label="Why does it differ?", required=False, max_length=200,
        help_text="leave it empty when nobody knows: “unexplained” is an honest answer",
    )  # fmt: skip
    seen = forms.CharField(widget=forms.HiddenInput, required=False)
    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid4)

    def __init__(self, *args: Any, shop: Shop, lying: Iterable[Balance], **rest: Any) -> None:
        super().__init__(*args, **rest)
        self.lying = list(lying)
        self.items = {item.pk: item for item in items_of(shop)}
        for row in self.lying:
            self.fields[f"n{row.pk}"] = CountField(f"{row.item}, counted", row.item)
        choices = grouped(self.items.values(), "nothing more")
        for n in range(1, FOUND + 1):
            self.fields[f"item{n}"] = forms.ChoiceField(
                choices=choices, required=False, label="What", widget=ItemSelect
            )
            self.fields[f"length{n}"] = LengthField(
                units=shop.length_units, required=False, label="Length"
            )
            self.fields[f"found{n}"] = CountField("How many")

    def booked_rows(self) -> Iterator[tuple[Balance, BoundField]]:
        """What lies here by the book, each with its box."""
        for row in self.lying:
            yield row, self[f"n{row.pk}"]

    def found_rows(self) -> Iterator[tuple[BoundField, BoundField, BoundField]]:
        """Boxes for things that the book does not know here: item, length, count."""
        for n in range(1, FOUND + 1):
            yield self[f"item{n}"], self[f"length{n}"], self[f"found{n}"]

    def has_found(self) -> bool:
        """Whether something was written into the boxes for things found."""
        boxes = (box for row in self.found_rows() for box in row)
        return any(box.value() or box.errors for box in boxes) if self.is_bound else False

    def clean(self) -> dict[str, Any]:
        """Each thing found needs a count, metal a length too; something must be counted."""
        given = super().clean() or {}
        for n in range(1, FOUND + 1):
            self._check_found(n, given)
        if not self.errors and not self.counted():
            raise forms.ValidationError("Nothing is counted yet: write at least one number.")
        return given

    def counted(self) -> list[Counted]:
        """What was counted, from the cleaned boxes."""
        given = self.cleaned_data
        rows = [
            Counted(row.item, row.length_um, row.condition, given[f"n{row.pk}"])
            for row in self.lying
            if given.get(f"n{row.pk}") is not None
        ]
        for n in range(1, FOUND + 1):
            item = self._item(given.get(f"item{n}"))
            if item is not None:
                length = given.get(f"length{n}") or 0
                rows.append(Counted(item, length, Condition.GOOD, given[f"found{n}"]))
        return rows

    def _check_found(self, n: int, given: dict[str, Any]) -> None:
        item = self._item(given.get(f"item{n}"))
        if item is None:
            if given.get(f"found{n}") is not None:
                self.add_error(f"item{n}", "Say what was found.")
            return
        if given.get(f"found{n}") is None:
            self.add_error(f"found{n}", f"Say how many of {item} were found.")
        elif is_whole(item) and given[f"found{n}"] % 1:
            self.add_error(f"found{n}", WHOLE)
        if item.is_by_length and not given.get(f"length{n}"):
            self.add_error(f"length{n}", f"Say how long the pieces of {item} are.")
        if not item.is_by_length and given.get(f"length{n}"):
            self.add_error(f"length{n}", f"{item} is not held by length: leave it empty.")

    def _item(self, raw: str | None) -> Item | None:
        return self.items.get(int(raw)) if raw else None
