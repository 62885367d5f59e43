"""What is sent from the door: who comes in or goes out, with whom, and when it was."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from django import forms

from inventory.places.models import Shop
from workshops.nights.actions import WalkIn
from workshops.nights.door import Collector
from workshops.people.fields import PersonField
from workshops.people.models import Person

# What a tablet kept is of this evening; an older word has the wrong clock.
OLDEST = timedelta(hours=14)


class DoorForm(forms.Form):
    """One person of the shop; of a minor who goes, who takes them home."""

    person = PersonField(label="Who", queryset=Person.objects.none())
    collected_by = PersonField(
        label="Taken home by", queryset=Person.objects.none(), required=False
    )
    collected_word = forms.CharField(label="Or by", max_length=80, required=False)

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        # Also those taken off the list: who is in the building stands on the roll.
        rows = Person.objects.filter(shop=shop, merged_into=None).select_related("shop")
        self.fields["person"].queryset = rows  # type: ignore[attr-defined]
        self.fields["collected_by"].queryset = rows  # type: ignore[attr-defined]

    def collector(self) -> Collector:
        """Who takes a minor home, as far as it was said."""
        given = self.cleaned_data
        return Collector(given.get("collected_by"), given.get("collected_word") or "")


class WalkInForm(forms.Form):
    """The least that puts a stranger on the roll: a name, grown up or not, the waiver."""

    first_name = forms.CharField(label="First name", max_length=60)
    last_name = forms.CharField(label="Last name", max_length=60, required=False)
    is_adult = forms.TypedChoiceField(
        label="Of age?", choices=[("yes", "Grown-up"), ("no", "Under age")],
        coerce=lambda word: word == "yes", widget=forms.RadioSelect,
    )  # fmt: skip
    age = forms.IntegerField(label="Age, when under age", min_value=0, max_value=25, required=False)
    has_signed = forms.BooleanField(label="Signed the waiver just now", required=False)
    is_another = forms.BooleanField(
        label="Somebody else of that name", required=False, widget=forms.HiddenInput
    )

    def told(self) -> WalkIn:
        """What was told at the door."""
        given = self.cleaned_data
        return WalkIn(
            first_name=given["first_name"], last_name=given["last_name"],
            is_adult=given["is_adult"], age=given["age"], has_signed=given["has_signed"],
        )  # fmt: skip


class KeptTapForm(forms.Form):
    """What every word carries that a tablet kept while the network was down."""

    what = forms.ChoiceField(choices=[(word, word) for word in ("in", "out", "walk-in")])
    client_key = forms.UUIDField()
    at = forms.DateTimeField()

    def moment(self, now: datetime) -> datetime:
        """When it was, by the tablet's clock where that can be, else now."""
        at: datetime = self.cleaned_data["at"]
        return at if now - OLDEST <= at <= now else now
