"""How many sets the winter wants, and how many a usual night finishes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from django import forms
from django.forms import BoundField

from inventory.materials.models import Item

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

    def set_boxes(self) -> Iterator[BoundField]:
        """One box for each kind of set."""
        for item in self.kinds:
            yield self[f"sets{item.pk}"]

    def wanted(self) -> dict[int, int]:
        """Sets by item, those of which none is wanted left out."""
        counts = {item.pk: self.cleaned_data[f"sets{item.pk}"] for item in self.kinds}
        return {item: count for item, count in counts.items() if count}


class NeedsForm(SetsForm):
    """What the needs are worked out for."""

    a_night = forms.IntegerField(
        label="Sets finished on a usual night", min_value=0, max_value=MOST,
        help_text="sets the dates by which things run out and must be ordered",
    )  # fmt: skip

    def clean(self) -> dict[str, Any]:
        """At least one set is wanted."""
        given = super().clean() or {}
        if not self.errors and not self.wanted():
            raise forms.ValidationError("Say how many sets are wanted, of one kind at least.")
        return given
