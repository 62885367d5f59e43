"""Forms of the close-out: steps and racks by one name each, and the hand-over."""

from __future__ import annotations

from typing import Any

from django import forms

from workshops.lockup.actions import Tick
from workshops.lockup.queries import CloseOut


class StepsForm(forms.Form):
    """Done, or not done because, for the steps that somebody looked at; racks counted."""

    ticked_by = forms.CharField(label="Ticked by", max_length=80)

    def __init__(self, *args: Any, close: CloseOut, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.close = close
        for each in close.to_do:
            self.fields[each.key] = forms.BooleanField(required=False)
            self.fields[f"{each.key}-why"] = forms.CharField(
                label=each.words, max_length=160, required=False
            )
        for row in close.racks:
            self.fields[f"rack-{row.item.pk}"] = forms.IntegerField(
                label=row.item.name, min_value=0, max_value=99999, required=False
            )

    def ticks(self) -> list[Tick]:
        """What was said; a reason wins over a tick."""
        given, found = self.cleaned_data, []
        for each in self.close.to_do:
            why = given[f"{each.key}-why"]
            if why or given[each.key]:
                found.append(Tick(each, is_done=not why, because=why))
        return found

    def counted(self) -> dict[int, int]:
        """Racks that were counted."""
        given = self.cleaned_data
        pks = [row.item.pk for row in self.close.racks]
        return {pk: given[f"rack-{pk}"] for pk in pks if given[f"rack-{pk}"] is not None}


class HandOverForm(forms.Form):
    """What the next opener must know."""

    words = forms.CharField(
        label="For the next opener", widget=forms.Textarea(attrs={"rows": 4}),
        help_text="what was odd, what is unfinished, where things lie",
    )  # fmt: skip
    first_job = forms.CharField(label="First job next night", max_length=200, required=False)
    ring = forms.CharField(label="Whom to ring, about what", max_length=200, required=False)
    not_done = forms.CharField(
        label="What is not ticked above is not done, because", max_length=160, required=False
    )


class ReadForm(forms.Form):
    """Who has read the hand-over."""

    read_by = forms.CharField(label="Read by", max_length=80)
