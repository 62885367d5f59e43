"""Forms of the slice; each says what is wrong in one sentence by the field."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from django import forms

from inventory.places.models import Shop
from workshops.counting.actions.sheets import Counted
from workshops.counting.models import PaperLine
from workshops.stations.models import Operation

KINDS = ("good", "hold", "scrap")


def number_field(label: str) -> forms.IntegerField:
    """So many pieces; empty is none."""
    return forms.IntegerField(label=label, min_value=0, max_value=9999, required=False)


def operations_in(shop: Shop) -> Any:
    """The operations that can be counted, in the order of the work."""
    rows = Operation.objects.filter(shop=shop, is_in_use=True)
    return rows.select_related("recipe__output", "station")


class TallyForm(forms.Form):
    """One count: good, on hold, scrap. The key makes sure it counts once.

    ``add`` is what a +1 or +10 button sends; it comes on top of what was written as good.
    """

    operation = forms.ModelChoiceField(label="Operation", queryset=Operation.objects.none())
    good = number_field("Good")
    hold = number_field("Hold")
    scrap = number_field("Scrap")
    add = number_field("Good")
    client_key = forms.UUIDField(label="This form", widget=forms.HiddenInput)

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["operation"].queryset = operations_in(shop)  # type: ignore[attr-defined]

    def clean(self) -> dict[str, Any]:
        """Whole numbers, nought where nothing was written."""
        given = super().clean() or {}
        more = given.pop("add", None) or 0
        counted = {name: given.get(name) or 0 for name in KINDS}
        return given | counted | {"good": counted["good"] + more}

    def told(self) -> str:
        """What is wrong, field by field, in one line."""
        return " ".join(
            f"{self.fields[name].label}: {error}" if name in self.fields else str(error)
            for name, errors in self.errors.items()
            for error in errors
        )


class MendForm(forms.Form):
    """Pieces that were counted as the wrong thing."""

    counted_as = forms.ModelChoiceField(
        label="They were counted as", queryset=Operation.objects.none()
    )
    was = forms.ModelChoiceField(
        label="They were", queryset=Operation.objects.none(), required=False,
        empty_label="nothing: counted twice, or never made",
    )  # fmt: skip
    good = number_field("Good")
    hold = number_field("On hold")
    scrap = number_field("Scrap")
    reason = forms.CharField(
        label="Why", max_length=150, help_text="who saw it, and how: “Maren counted the rack”"
    )
    client_key = forms.UUIDField(label="This form", widget=forms.HiddenInput)

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in ("counted_as", "was"):
            self.fields[name].queryset = operations_in(shop)  # type: ignore[attr-defined]

    def clean(self) -> dict[str, Any]:
        """Nought where nothing was written."""
        given = super().clean() or {}
        return given | {name: given.get(name) or 0 for name in KINDS}


class SheetForm(forms.Form):
    """A sheet as it lies on the table: its number, whose hand, and its boxes."""

    number = forms.IntegerField(
        label="Number of the sheet", min_value=1, required=False,
        help_text="printed in its corner; empty for plain paper or a second count",
    )  # fmt: skip
    counted_by = forms.CharField(label="Counted by", max_length=80, required=False)
    note = forms.CharField(
        label="Note", max_length=200, required=False, help_text="for example: counted again"
    )

    def __init__(self, *args: Any, operations: Sequence[Operation], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.operations = operations
        for operation in operations:
            for kind in KINDS:
                self.fields[f"{kind}_{operation.pk}"] = number_field(f"{kind}: {operation.name}")

    def rows(self) -> Iterable[tuple[Operation, list[Any]]]:
        """Each operation with its three boxes, as the sheet has them."""
        for operation in self.operations:
            yield operation, [self[f"{kind}_{operation.pk}"] for kind in KINDS]

    def counted(self) -> list[Counted]:
        """What is written of each operation."""
        return [
            Counted(
                operation=operation,
                **{kind: self.cleaned_data[f"{kind}_{operation.pk}"] or 0 for kind in KINDS},
            )
            for operation in self.operations
        ]


class DecideForm(forms.Form):
    """One of three, and a word."""

    decision = forms.ChoiceField(
        choices=PaperLine.Decision.choices, widget=forms.RadioSelect, required=False,
        label="What is true?",
    )  # fmt: skip
    word = forms.CharField(
        label="Who knows it, or why", max_length=200, required=False,
        widget=forms.TextInput(attrs={"autocomplete": "off", "class": "form-control"}),
    )  # fmt: skip


class LostForm(forms.Form):
    """How a tablet was lost."""

    words = forms.CharField(label="What happened to it?", max_length=200)
