"""The forms of a check and of a sorting."""

from __future__ import annotations

import uuid
from collections.abc import Sequence
from typing import Any

from django import forms

from inventory.measures.lengths import Units
from workshops.common.fields import LengthField
from workshops.quality.actions import Counts, Finding
from workshops.quality.models import Check
from workshops.stations.geometry.gauging import Measure, gauge

WELD_WORDS = ("cold lap", "no fusion", "holes in the weld", "cracked", "peeled off")
MOST = 9999


def number(label: str, **kwargs: Any) -> forms.IntegerField:
    """A count that may stay empty."""
    field = forms.IntegerField(label=label, min_value=0, max_value=MOST, required=False, **kwargs)
    field.widget.attrs |= {"inputmode": "numeric"}
    return field


class CheckForm(forms.Form):
    """What somebody found on a piece; pass and fail are its two buttons."""

    result = forms.ChoiceField(choices=[("good", "good"), ("bad", "bad")])
    kind = forms.ChoiceField(choices=Check.Kind.choices)
    how = forms.ChoiceField(label="How", choices=Check.How.choices, required=False)
    measure = forms.TypedChoiceField(label="What", coerce=int, empty_value=None, required=False)
    words = forms.CharField(label="What is wrong", max_length=200, required=False)
    checked_by = forms.CharField(label="Checked by", max_length=80)
    looked_at = forms.IntegerField(label="Pieces looked at", min_value=1, max_value=99, initial=1,
                                   required=False)  # fmt: skip
    from_rack = forms.BooleanField(label="The book loses the pieces that were broken",
                                   required=False)  # fmt: skip
    client_key = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(
        self, *args: Any, measures: Sequence[Measure], units: Units, **kwargs: Any
    ) -> None:
        kwargs["initial"] = {"client_key": uuid.uuid4()} | kwargs.get("initial", {})
        super().__init__(*args, **kwargs)
        self.measures, self.units = measures, units
        choices = [(place, each.name) for place, each in enumerate(measures)]
        self.fields["measure"].choices = choices  # type: ignore[attr-defined]
        self.fields["value"] = LengthField(label="Measured", units=units, required=False)
        self.fields["looked_at"].widget.attrs |= {"inputmode": "numeric"}

    def clean(self) -> dict[str, Any]:
        """Let the drawing judge what was measured: nobody presses good on what is no go."""
        given = super().clean() or {}
        value = given.get("value")
        if value is not None and self.measures and value > 0:
            judged = gauge(self.measures[given.get("measure") or 0], value, self.units)
            given["said"] = judged.says
            if given.get("result") == "good" and not judged.is_go:
                self.add_error("value", f"The drawing says no: {judged.says}. Press Bad.")
            if given.get("result") == "bad" and not given.get("words"):
                given["words"] = judged.says
        return given

    def finding(self) -> Finding:
        """What was found, as the action takes it."""
        given, value = self.cleaned_data, self.cleaned_data.get("value")
        is_measured = value is not None and bool(self.measures)
        measure = self.measures[given.get("measure") or 0].name if is_measured else ""
        how = Check.How.MEASURED if is_measured else given.get("how") or Check.How.EYE
        looked_at = given.get("looked_at") or 1
        return Finding(
            kind=given["kind"], is_good=given["result"] == "good", checked_by=given["checked_by"],
            how=Check.How.EYE if how == Check.How.MEASURED and not is_measured else how,
            measure=measure, value_um=value if is_measured else None, said=given.get("said", ""),
            words=given["words"] if given["result"] == "bad" else "", looked_at=looked_at,
            from_rack=looked_at if given["from_rack"] else 0, client_key=given["client_key"],
        )  # fmt: skip


class SortForm(forms.Form):
    """How many of what was held are good, to be mended, scrap."""

    good = number("Good")
    rework = number("Rework")
    scrap = number("Scrap")
    words = forms.CharField(label="What was found", max_length=200, required=False)
    sorted_by = forms.CharField(label="Sorted by", max_length=80)
    from_rework = forms.BooleanField(required=False, widget=forms.HiddenInput)
    client_key = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs["initial"] = {"client_key": uuid.uuid4()} | kwargs.get("initial", {})
        super().__init__(*args, **kwargs)

    def counts(self) -> Counts:
        """The counts, an empty box as nothing."""
        given = {name: self.cleaned_data[name] or 0 for name in ("good", "rework", "scrap")}
        return Counts(**given)
