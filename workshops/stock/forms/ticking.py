"""Sticks ticked as cut, taken back, or told to be different."""

from __future__ import annotations

from typing import Any
from uuid import UUID, uuid4, uuid5

from django import forms
from django.db.models import QuerySet

from inventory.cutting.actions import Unlike
from inventory.cutting.models import CutTick
from inventory.cutting.queries import Strip
from inventory.measures.lengths import Units
from inventory.places.models import Place
from workshops.stock.fields import LengthField

ONE, ALL, BACK = "one", "all", "back"


class TickForm(forms.Form):
    """One press at the saw: ``do`` says ``one:3``, ``all:3`` or ``back:17``."""

    do = forms.RegexField(rf"^({ONE}|{ALL}|{BACK}):\d{{1,9}}$", widget=forms.HiddenInput)
    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid4)
    pieces = forms.ModelChoiceField(Place.objects.none(), label="Pieces go to", required=False)
    drops = forms.ModelChoiceField(Place.objects.none(), label="Drops go to", required=False)

    def __init__(
        self, data: Any = None, *, places: QuerySet[Place], last: CutTick | None = None
    ) -> None:
        initial = {"pieces": last.piece_place_id, "drops": last.drop_place_id} if last else {}
        super().__init__(data, initial=initial)
        for name in ("pieces", "drops"):
            self.fields[name].queryset = places  # type: ignore[attr-defined]
            self.fields[name].empty_label = "where it is kept"  # type: ignore[attr-defined]

    @property
    def act(self) -> str:
        """What was pressed."""
        return str(self.cleaned_data["do"].partition(":")[0])

    @property
    def number(self) -> int:
        """The pattern, or the tick that is taken back."""
        return int(self.cleaned_data["do"].partition(":")[2])

    @property
    def client_key(self) -> UUID:
        """One for each button of a page, so that a double press counts once."""
        return uuid5(self.cleaned_data["key"], self.cleaned_data["do"])


class UnlikeForm(forms.Form):
    """A stick that was short or damaged: its true length, what came out right, the rest."""

    KEPT, THROWN = "kept", "thrown"

    reason = forms.CharField(
        label="What was wrong?", max_length=120, help_text="a quarter inch short, bent, rusted"
    )
    rest = forms.ChoiceField(
        label="What happens to the rest of it?",
        choices=[(KEPT, "kept, when it is long enough"), (THROWN, "thrown away")],
    )
    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid4)

    def __init__(self, *args: Any, strip: Strip, units: Units, **rest: Any) -> None:
        super().__init__(*args, **rest)
        self.labels = list(dict.fromkeys(piece.label for piece in strip.pieces))
        self.fields["length"] = LengthField(
            label="How long was the whole stick, truly?", units=units, initial=strip.length_um
        )
        for n, label in enumerate(self.labels):
            there = sum(piece.label == label for piece in strip.pieces)
            self.fields[f"good{n}"] = forms.IntegerField(
                label=f"{label} that came out right, of {there}", min_value=0, max_value=there,
                initial=0,
            )  # fmt: skip
        self.order_fields(["length", *(f"good{n}" for n in range(len(self.labels))), "rest"])

    def unlike(self) -> Unlike:
        """What was told, as the cut list takes it."""
        given = self.cleaned_data
        return Unlike(
            length_um=given["length"],
            reason=given["reason"],
            pieces={label: given[f"good{n}"] for n, label in enumerate(self.labels)},
            is_scrapped=given["rest"] == self.THROWN,
        )
