"""Bringing in a list: which one, and the file."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from django import forms

from inventory.places.models import Shop
from workshops.common.columns import read_rows
from workshops.common.sheets import BYTES_MOST, SheetRefused, read_sheet
from workshops.stock.exchange.counts import OPENING
from workshops.stock.exchange.kinds import KINDS, STOCK, ListKind

OPENS = f"{STOCK.key}-{OPENING}"
TITLES = {
    "items": "items: what is counted",
    "stock": "stock: a count, its differences are written",
    OPENS: "stock: the opening stock, which comes in as goods",
    "movements": "movements: what came, moved, was used",
}


class BringForm(forms.Form):
    """The list is read here once, so that a file which is no list is refused at once."""

    kind = forms.ChoiceField(label="What is it a list of?")
    file = forms.FileField(
        label="The file", help_text="CSV or XLSX, at most 20,000 rows; nothing is written yet",
        widget=forms.FileInput(attrs={"accept": ".csv,.xlsx,.txt"}), max_length=200,
    )  # fmt: skip

    def __init__(self, *args: Any, shop: Shop, may: Collection[str], **rest: Any) -> None:
        super().__init__(*args, **rest)
        self.shop, self.content = shop, b""
        self.fields["kind"].choices = [  # type: ignore[attr-defined]
            (key, title) for key, title in TITLES.items() if kind_of(key).permission in may
        ]

    def clean(self) -> dict[str, Any]:
        """The file must be a list of its kind, whatever its rows say."""
        given = super().clean() or {}
        file = given.get("file")
        if file is None or "kind" not in given:
            return given
        if file.size > BYTES_MOST:
            self.add_error("file", f"The file is larger than {BYTES_MOST // 1_000_000} MB.")
            return given
        self.content = file.read()
        try:
            read_rows(read_sheet(self.content), kind_of(given["kind"]).columns(self.shop))
        except SheetRefused as refused:
            self.add_error("file", str(refused))
        return given

    @property
    def list_kind(self) -> ListKind:
        """The kind that was chosen."""
        return kind_of(self.cleaned_data["kind"])

    @property
    def choices_made(self) -> dict[str, Any]:
        """What else the choice says: whether stock is the opening stock."""
        return {"as": OPENING} if self.cleaned_data["kind"] == OPENS else {}


def kind_of(key: str) -> ListKind:
    """The kind of list behind a choice of the form."""
    return KINDS[key.removesuffix(f"-{OPENING}")]


class SpanForm(forms.Form):
    """From which day to which day; an empty end is open."""

    first = forms.DateField(
        label="From", required=False, widget=forms.DateInput(attrs={"type": "date"})
    )
    last = forms.DateField(
        label="To", required=False, widget=forms.DateInput(attrs={"type": "date"})
    )
