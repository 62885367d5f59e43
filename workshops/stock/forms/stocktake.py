"""Opening a stocktake, counting a sheet, explaining what differs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Any

from django import forms
from django.forms import BoundField
from django.utils import timezone

from inventory.ledger.actions import Counted
from inventory.ledger.models import Condition
from inventory.materials.models import Item
from inventory.materials.queries import items_of
from inventory.places.models import Place, Shop
from inventory.places.queries import places_of
from inventory.stocktake.actions import Counter
from inventory.stocktake.models import CountLine, Turn
from workshops.stock.fields import WHOLE, CountField, ItemSelect, LengthField, grouped, is_whole

FINDS = 4  # rows for what the sheet does not list


class OpenForm(forms.Form):
    """A name, the places, and what was agreed on the cut-off."""

    name = forms.CharField(
        label="What is it called?", max_length=80, help_text="such as “Before the first night”"
    )
    places = forms.ModelMultipleChoiceField(
        Place.objects.none(), label="Which places?", widget=forms.CheckboxSelectMultiple,
        error_messages={"required": "Choose at least one place to count."},
    )  # fmt: skip
    note = forms.CharField(
        label="What was agreed on the cut-off?", max_length=300, required=False,
        widget=forms.Textarea(attrs={"rows": 2}),
        help_text="printed on the sheets, such as “Thursday’s tally is in, the trailer is empty”",
    )  # fmt: skip

    def __init__(self, *args: Any, shop: Shop, **rest: Any) -> None:
        super().__init__(*args, **rest)
        places = places_of(shop)
        self.fields["places"].queryset = places  # type: ignore[attr-defined]
        self.fields["places"].initial = [place.pk for place in places]


@dataclass(frozen=True, slots=True)
class Row:
    """One line to count: its box, and the box that says there is none."""

    line: CountLine
    count: BoundField
    none: BoundField


class SheetForm(forms.Form):
    """What one person counted; an empty box was not looked at, 0 means there is none."""

    counter = forms.CharField(label="Who counts?", max_length=80)
    counted_at = forms.DateTimeField(
        label="From paper: when was it counted?", required=False,
        widget=forms.DateTimeInput(attrs={"type": "datetime-local"}, format="%Y-%m-%dT%H:%M"),
        help_text="leave it empty when you stand before the shelf",
    )  # fmt: skip

    def __init__(
        self, *args: Any, shop: Shop, lines: Sequence[CountLine], turn: int, **rest: Any
    ) -> None:
        super().__init__(*args, **rest)
        self.lines, self.turn = lines, turn
        self.items = {item.pk: item for item in items_of(shop)}
        for line in lines:
            self._add_boxes(line)
        choices = grouped(self.items.values(), "nothing more")
        for n in range(1, FINDS + 1):
            self.fields[f"item{n}"] = forms.ChoiceField(
                choices=choices, required=False, label="What", widget=ItemSelect
            )
            self.fields[f"length{n}"] = LengthField(
                units=shop.length_units, required=False, label="Length"
            )
            self.fields[f"found{n}"] = CountField("How many")

    def _add_boxes(self, line: CountLine) -> None:
        seen = None if self.turn == Turn.THIRD and line.is_doubted else line.seen(self.turn)
        box = CountField(f"{line.item}, counted", line.item)
        box.initial = seen[0].normalize() if seen and seen[0] else None
        self.fields[f"n{line.pk}"] = box
        self.fields[f"z{line.pk}"] = forms.BooleanField(
            required=False,
            label="none here",
            initial=bool(seen and not seen[0]),
            widget=forms.CheckboxInput(attrs={"class": "form-check-input"}),
        )

    def groups(self) -> Iterator[tuple[Item, list[Row]]]:
        """The lines under their items, each with its boxes."""
        rows: list[Row] = []
        for line in self.lines:
            if rows and rows[0].line.item_id != line.item_id:
                yield rows[0].line.item, rows
                rows = []
            rows.append(Row(line, self[f"n{line.pk}"], self[f"z{line.pk}"]))
        if rows:
            yield rows[0].line.item, rows

    def find_rows(self) -> Iterator[tuple[BoundField, BoundField, BoundField]]:
        """Boxes for what the sheet does not list: item, length, count."""
        for n in range(1, FINDS + 1):
            yield self[f"item{n}"], self[f"length{n}"], self[f"found{n}"]

    def has_find(self) -> bool:
        """Whether something is written into the boxes for finds."""
        boxes = (box for row in self.find_rows() for box in row)
        return any(box.value() or box.errors for box in boxes) if self.is_bound else False

    def clean_counted_at(self) -> datetime | None:
        """Not in the future: what was not counted yet cannot be typed in."""
        at: datetime | None = self.cleaned_data["counted_at"]
        if at and at > timezone.now():
            raise forms.ValidationError("That is still to come.")
        return at

    def clean(self) -> dict[str, Any]:
        """One answer a line; a find with its count, and a length when it is metal."""
        given = super().clean() or {}
        for line in self.lines:
            if given.get(f"n{line.pk}") and given.get(f"z{line.pk}"):
                self.add_error(f"n{line.pk}", "A number and “none here”: which is it?")
        for n in range(1, FINDS + 1):
            self._check_find(n, given)
        return given

    def counts(self) -> dict[int, Decimal | None]:
        """Line -> what was counted, ``None`` for what was not looked at."""
        given = self.cleaned_data
        return {
            line.pk: Decimal() if given[f"z{line.pk}"] else given[f"n{line.pk}"]
            for line in self.lines
        }

    def finds(self) -> list[Counted]:
        """What was found that the sheet does not list."""
        given, found = self.cleaned_data, []
        for n in range(1, FINDS + 1):
            item = self._item(given.get(f"item{n}"))
            if item is not None:
                length = given.get(f"length{n}") or 0
                found.append(Counted(item, length, Condition.GOOD, given[f"found{n}"]))
        return found

    def looked_at(self) -> int:
        """How many lines have an answer."""
        return sum(count is not None for count in self.counts().values())

    def by_whom(self) -> Counter:
        """Who counted, and whether it was on paper."""
        given = self.cleaned_data
        return Counter(given["counter"], is_from_paper=bool(given["counted_at"]))

    def _check_find(self, n: int, given: dict[str, Any]) -> None:
        item, count = self._item(given.get(f"item{n}")), given.get(f"found{n}")
        if item is None:
            if count is not None:
                self.add_error(f"item{n}", "Say what was found.")
            return
        if count is None:
            self.add_error(f"found{n}", f"Say how many of {item} were found.")
        elif is_whole(item) and count % 1:
            self.add_error(f"found{n}", WHOLE)
        if item.is_by_length and not given.get(f"length{n}"):
            self.add_error(f"length{n}", f"Say how long the pieces of {item} are.")
        if not item.is_by_length and given.get(f"length{n}"):
            self.add_error(f"length{n}", f"{item} is not held by length: leave it empty.")

    def _item(self, raw: str | None) -> Item | None:
        return self.items.get(int(raw)) if raw else None


class ReasonsForm(forms.Form):
    """Where each difference comes from."""

    def __init__(self, *args: Any, lines: Sequence[CountLine], **rest: Any) -> None:
        super().__init__(*args, **rest)
        self.lines = lines
        for line in lines:
            reason = forms.ChoiceField(
                choices=CountLine.Reason.choices, initial=line.reason, label="Reason"
            )
            words = forms.CharField(
                max_length=160, required=False, initial=line.words, label="In words"
            )
            self.fields[f"r{line.pk}"], self.fields[f"w{line.pk}"] = reason, words

    def boxes(self) -> dict[int, tuple[BoundField, BoundField]]:
        """Line -> its two boxes."""
        return {line.pk: (self[f"r{line.pk}"], self[f"w{line.pk}"]) for line in self.lines}

    def reasons(self) -> dict[int, tuple[str, str]]:
        """Line -> reason and words."""
        given = self.cleaned_data
        return {line.pk: (given[f"r{line.pk}"], given[f"w{line.pk}"]) for line in self.lines}


class AloneForm(forms.Form):
    """Why one person may count twice."""

    reason = forms.CharField(
        label="Why does one person count twice?", max_length=200,
        help_text="shown with the result, such as “nobody else is well enough to come”",
    )  # fmt: skip
