"""How many sets the winter wants, and how many a usual night finishes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import Any

from django import forms

from inventory.materials.models import Item
from inventory.needs.scrap import ENOUGH, STATED_PER_MILLE

MOST = 100_000


class SetsForm(forms.Form):
    """A number for each kind of complete set."""

    def __init__(
        self, *args: Any, kinds: Iterable[Item], wanted: Mapping[int, int], **rest: Any
    ) -> None:
        super().__init__(*args, **rest)
        self.kinds = list(kinds)
        for item in self.kinds:
            self.fields[f"sets{item.pk}"] = forms.IntegerField(
                label=item.name,
                min_value=0,
                max_value=MOST,
                required=False,
                initial=wanted.get(item.pk, 0),
                widget=forms.NumberInput(attrs={"inputmode": "numeric"}),
            )

    def wanted(self) -> dict[int, int]:
        """Sets by item, those of which none is wanted left out."""
        counts = {item.pk: self.cleaned_data[f"sets{item.pk}"] for item in self.kinds}
        return {item: count for item, count in counts.items() if count}


PACE, RATE = "pace", "rate"


class NeedsForm(SetsForm):
    """What the needs are worked out for."""

    pace = forms.ChoiceField(
        label="How fast?", widget=forms.RadioSelect, initial=PACE,
        choices=[
            (PACE, "at the season's pace: who is on the list and signed off"),
            (RATE, "so many sets on every planned night:"),
        ],
    )  # fmt: skip
    a_night = forms.IntegerField(
        label="Sets on a night", min_value=0, max_value=MOST, required=False,
        help_text="for the second choice",
        widget=forms.NumberInput(attrs={"inputmode": "numeric"}),
    )  # fmt: skip
    scrap = forms.DecimalField(
        label="Expected scrap at a step, per cent", min_value=Decimal(0), max_value=Decimal(50),
        decimal_places=1, max_digits=3, initial=Decimal(STATED_PER_MILLE) / 10,
        help_text=f"where the club has tallied fewer than {ENOUGH} pieces of its own",
    )  # fmt: skip

    def clean(self) -> dict[str, Any]:
        """At least one set is wanted, and the second choice says how many."""
        given = super().clean() or {}
        if not self.errors and not self.wanted():
            raise forms.ValidationError("Say how many sets are wanted, of one kind at least.")
        if given.get("pace") == RATE and given.get("a_night") is None:
            self.add_error("a_night", "Say how many sets are finished on a night.")
        return given

    def rate(self) -> int | None:
        """Sets on every night; ``None`` for the season's pace."""
        given = self.cleaned_data
        return given["a_night"] if given["pace"] == RATE else None

    def per_mille(self) -> int:
        """The stated scrap of a thousand pieces."""
        return int(self.cleaned_data["scrap"] * 10)
