"""Which pieces are cut from one material."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from typing import Any

from django import forms
from django.forms import BoundField

from inventory.cutting.actions import Wanted
from inventory.materials.models import Item
from inventory.materials.queries import PieceWanted
from inventory.measures.lengths import spell_length
from workshops.stock.fields import LengthField
from workshops.stock.forms.needs import SetsForm

SPARE = 3  # empty rows for pieces that no parts list names
MOST = 20_000


class MaterialForm(SetsForm):
    """The material, and how many sets the pieces are filled in for."""

    item = forms.ModelChoiceField(Item.objects.none(), label="What is cut?", empty_label="choose")

    field_order = ["item"]

    def __init__(self, *args: Any, metals: Any, **rest: Any) -> None:
        super().__init__(*args, **rest)
        self.fields["item"].queryset = metals  # type: ignore[attr-defined]


SHEAR, SAW, OTHER = "shear", "saw", "other"


class PiecesForm(forms.Form):
    """Names, lengths and counts; rows without a count are left out."""

    night = forms.ChoiceField(label="For which night?", required=False)
    way = forms.ChoiceField(label="How is it cut?", required=False)
    anew = forms.BooleanField(
        label="Cut all of these anew, even where pieces lie cut to length", required=False
    )

    def __init__(
        self,
        *args: Any,
        item: Item,
        pieces: Sequence[PieceWanted],
        nights: Iterable[date],
        on_rack: Mapping[int, Any] | None = None,
        **rest: Any,
    ) -> None:
        super().__init__(*args, **rest)
        self.item, self.pieces = item, pieces
        self.on_rack = on_rack or {}
        choices = [(day.isoformat(), f"{day:%A} {day.day} {day:%B}") for day in nights]
        self.fields["night"].choices = [("", "no night: for the rack"), *choices]  # type: ignore[attr-defined]
        self.fields["way"].choices = _ways(item)  # type: ignore[attr-defined]
        self.fields["kerf"] = LengthField(
            label="What another saw takes", units=item.shop.length_units, required=False
        )
        # Spare rows only on an empty form: a refused one comes back with the rows it had.
        self.rows = max(len(pieces), self._typed_rows()) + (0 if self.is_bound else SPARE)
        for n in range(self.rows):
            self._add_row(n, pieces[n] if n < len(pieces) else None)

    def _typed_rows(self) -> int:
        """Rows that came with the request: as many as it has counts, and no more."""
        # Rows are counted in the request: somebody may have added some to a kept page.
        rows = 0
        while self.is_bound and f"count{rows}" in self.data and rows < 200:
            rows += 1
        return rows

    def _add_row(self, n: int, piece: PieceWanted | None) -> None:
        units = self.item.shop.length_units
        self.fields[f"label{n}"] = forms.CharField(
            label="Piece", required=False, max_length=60,
            initial=piece.made_into.name if piece else "",
        )  # fmt: skip
        self.fields[f"length{n}"] = LengthField(
            label="Length", units=units, required=False,
            initial=piece.length_um if piece else None,
        )  # fmt: skip
        self.fields[f"count{n}"] = forms.IntegerField(
            label="How many", required=False, min_value=0, max_value=MOST,
            initial=piece.count if piece else None,
        )  # fmt: skip

    def table(self) -> Iterator[tuple[BoundField, BoundField, BoundField, Any]]:
        """Row by row: name, length, count, and how many are on the rack already."""
        for n in range(self.rows):
            piece = self.pieces[n] if n < len(self.pieces) else None
            there = self.on_rack.get(piece.made_into.pk) if piece else None
            yield self[f"label{n}"], self[f"length{n}"], self[f"count{n}"], there

    def clean(self) -> dict[str, Any]:
        """A counted row has a name and a length; one row at least is counted."""
        given = super().clean() or {}
        for n in range(self.rows):
            if not given.get(f"count{n}"):
                continue
            if not given.get(f"label{n}", "").strip():
                self.add_error(f"label{n}", "Give the piece a name.")
            if not given.get(f"length{n}") and f"length{n}" not in self.errors:
                self.add_error(f"length{n}", "Say how long the piece is.")
        if given.get("way") == OTHER and not given.get("kerf") and "kerf" not in self.errors:
            self.add_error("kerf", "Say what one cut of that saw takes, such as 1/16.")
        if not self.errors and not self.wanted():
            raise forms.ValidationError("Say how many of at least one piece are wanted.")
        return given

    def wanted(self) -> list[Wanted]:
        """The pieces that are wanted, as the cut list takes them."""
        given = self.cleaned_data
        return [
            (given[f"label{n}"].strip(), given[f"length{n}"], given[f"count{n}"])
            for n in range(self.rows)
            if given.get(f"count{n}")
        ]

    def kerf_um(self) -> int | None:
        """What one cut takes on this list; ``None`` as the item says."""
        way = self.cleaned_data["way"]
        if way == OTHER:
            return int(self.cleaned_data["kerf"])
        return 0 if way == SHEAR else None

    def per_set(self) -> dict[str, int]:
        """What one set takes of each piece that is still called as its parts list calls it."""
        return {piece.made_into.name: piece.per_set for piece in self.pieces if piece.per_set}


def _ways(item: Item) -> list[tuple[str, str]]:
    """The item's own way first, which is what an untouched form takes."""
    kerf = spell_length(item.kerf_um, item.shop.length_units)
    shear, other = (SHEAR, "sheared (no kerf)"), (OTHER, "another saw")
    return [(SAW, f"sawn, {kerf} a cut"), shear, other] if item.kerf_um else [shear, other]
