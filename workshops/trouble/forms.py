"""The form of a report, short enough for a minute on a phone."""

from __future__ import annotations

import uuid
from typing import Any

from django import forms

from inventory.places.models import Shop
from workshops.people.models import Person
from workshops.stations.models import Station, Tool
from workshops.trouble.actions import Closing, Report
from workshops.trouble.models import Trouble
from workshops.trouble.queries import stations_in_use, tools_in_service

CLOSINGS = [
    (Closing.UNTIL_REOPENED, "Close it until a lead reopens it"),
    (Closing.TONIGHT, "Close it for tonight"),
    (Closing.OPEN, "Leave it open"),
]


class ReportForm(forms.Form):
    """What happened, where, who, in one line; all but the first may stay empty.

    Whoever does not run the night reports all the same: they close nothing and see no names.
    """

    kind = forms.ChoiceField(
        label="What happened?", choices=Trouble.Kind.choices, widget=forms.RadioSelect,
        error_messages={"required": "What happened? Press one of the four."},
    )  # fmt: skip
    station = forms.ModelChoiceField(Station.objects.none(), label="Where?", required=False)
    what = forms.CharField(label="In one line", max_length=200, required=False)
    people = forms.ModelMultipleChoiceField(Person.objects.none(), required=False)
    tool = forms.ModelChoiceField(
        Tool.objects.none(), label="Out of service from now on", required=False
    )
    closing = forms.ChoiceField(choices=CLOSINGS, required=False)
    client_key = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, shop: Shop, runs: bool, **kwargs: Any) -> None:
        kwargs["initial"] = {"client_key": uuid.uuid4()} | kwargs.get("initial", {})
        super().__init__(*args, **kwargs)
        self.runs = runs
        self.fields["station"].queryset = stations_in_use(shop)  # type: ignore[attr-defined]
        if runs:
            people = Person.objects.filter(shop=shop).active()
            self.fields["people"].queryset = people  # type: ignore[attr-defined]
            self.fields["tool"].queryset = tools_in_service(shop)  # type: ignore[attr-defined]

    def report(self, reported_by: str) -> Report:
        """What was told, as the action takes it."""
        given = self.cleaned_data
        return Report(
            kind=given["kind"], reported_by=reported_by, station=given["station"],
            what=given["what"], people=list(given["people"]), tool=given["tool"],
            closing=(given["closing"] or Closing.OPEN) if self.runs else Closing.OPEN,
            client_key=given["client_key"],
        )  # fmt: skip


class ReopenForm(forms.Form):
    """Who looked at it, and what was mended."""

    lead = forms.ModelChoiceField(Person.objects.none(), required=False)
    why = forms.CharField(label="What was looked at and mended", max_length=200)

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        people = Person.objects.filter(shop=shop).active()
        self.fields["lead"].queryset = people  # type: ignore[attr-defined]


class WordsForm(forms.Form):
    """What is added later."""

    words = forms.CharField(label="Add", max_length=1000, widget=forms.Textarea({"rows": 3}))
    client_key = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs["initial"] = {"client_key": uuid.uuid4()} | kwargs.get("initial", {})
        super().__init__(*args, **kwargs)
