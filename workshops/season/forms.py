"""Forms of the slice."""

from __future__ import annotations

from datetime import date
from typing import Any

from django import forms
from django.utils import timezone

from inventory.materials.models import Item
from inventory.places.models import Shop


class Day(forms.DateInput):
    """A day picked with the tablet's own calendar."""

    input_type = "date"

    def __init__(self) -> None:
        super().__init__(format="%Y-%m-%d")


class WinterForm(forms.Form):
    """A winter and its ready-by band."""

    name = forms.CharField(label="Name", max_length=40, help_text="2026–27")
    starts_on = forms.DateField(label="First day", widget=Day())
    ends_on = forms.DateField(label="Last day", widget=Day())
    ready_from = forms.DateField(
        label="Ready by, at the earliest", widget=Day(),
        help_text="a band, because the ice does not keep a date",
    )  # fmt: skip
    ready_by = forms.DateField(label="Ready by, at the latest", widget=Day())


class TargetForm(forms.Form):
    """How many of one set are wanted, and why."""

    item = forms.ModelChoiceField(label="Set", queryset=Item.objects.none())
    new = forms.IntegerField(label="New", min_value=0, max_value=99_999, initial=0)
    replacements = forms.IntegerField(
        label="Replacements", min_value=0, max_value=99_999, initial=0,
        help_text="for what the ice and the years took",
    )  # fmt: skip
    spares = forms.IntegerField(label="Spares", min_value=0, max_value=99_999, initial=0)

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        sets = Item.objects.filter(shop=shop, kind=Item.Kind.SET)
        self.fields["item"].queryset = sets  # type: ignore[attr-defined]


class IceForm(forms.Form):
    """When the ice went."""

    water = forms.CharField(label="Water", max_length=60)
    went_on = forms.DateField(label="Ice went on", widget=Day())

    def clean_went_on(self) -> date:
        """A day that has come."""
        went_on: date = self.cleaned_data["went_on"]
        if went_on > timezone.localdate():
            raise forms.ValidationError("That day has not come yet: note it when the ice is gone.")
        return went_on
