"""Forms of the hot-work permit: its terms, sparks, turns and signatures, each by name."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import time
from typing import Any

from django import forms

from inventory.places.models import Room, Shop
from workshops.nights.actions import Terms
from workshops.nights.forms import Clock
from workshops.nights.permit.points import Point
from workshops.people.fields import PersonField, offer_people
from workshops.people.models import Person
from workshops.stations.models import Station

SIGNS = [("round", "round"), ("end", "end"), ("second", "second")]


class PermitForm(forms.Form):
    """Where, at which stations, what, and who watches, allows it and has the key."""

    watcher = PersonField(
        label="Fire watch", queryset=Person.objects.none(),
        help_text="not the welder, nothing else to do, stays to the end",
    )  # fmt: skip
    room = forms.ModelChoiceField(Room.objects.none(), label="Where sparks fly")
    stations = forms.ModelMultipleChoiceField(
        Station.objects.none(), label="Stations that spark tonight",
        widget=forms.CheckboxSelectMultiple,
        help_text="grinders and abrasive saws as well as arcs",
    )  # fmt: skip
    work = forms.CharField(label="What is done", max_length=120, help_text="weld heads, grind")
    extinguisher = forms.CharField(label="Extinguisher: which, and where", max_length=80)
    key_with = forms.CharField(label="Who locks up", max_length=80)
    allowed_by = forms.CharField(label="Allowed by (name)", max_length=80)

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        offer_people(shop, self.fields["watcher"], in_short=True)
        hot = Station.objects.filter(shop=shop, is_in_use=True, is_spark=True)
        self.fields["stations"].queryset = hot  # type: ignore[attr-defined]
        rooms = Room.objects.filter(shop=shop)
        self.fields["room"].queryset = rooms  # type: ignore[attr-defined]

    def terms(self) -> Terms:
        """What the permit says, as the action takes it."""
        given = self.cleaned_data
        return Terms(
            room=given["room"], stations=list(given["stations"]), work=given["work"],
            extinguisher=given["extinguisher"], allowed_by=given["allowed_by"],
            key_with=given["key_with"],
        )  # fmt: skip


class PointsForm(forms.Form):
    """Yes or no to each point that somebody looked at; the others stay open."""

    checked_by = forms.CharField(label="Looked at by", max_length=80)

    def __init__(self, *args: Any, points: Sequence[Point], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.keys = [point.key for point in points]
        for key in self.keys:
            self.fields[key] = forms.ChoiceField(
                choices=[("yes", "yes"), ("no", "no")], required=False
            )

    def answers(self) -> dict[str, bool]:
        """What was answered."""
        given = self.cleaned_data
        return {key: given[key] == "yes" for key in self.keys if given.get(key)}


class SparkForm(forms.Form):
    """When a spark was struck, where, by whom."""

    station = forms.ModelChoiceField(Station.objects.none(), label="At which station")
    struck_by = forms.CharField(label="By whom", max_length=80)
    at = forms.TimeField(label="When", widget=Clock(), required=False, help_text="empty: now")
    client_key = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        hot = Station.objects.filter(shop=shop, is_spark=True)
        self.fields["station"].queryset = hot  # type: ignore[attr-defined]

    def told_at(self) -> time | None:
        """The time that was told; none: this moment."""
        found: time | None = self.cleaned_data["at"]
        return found


class TurnForm(forms.Form):
    """Who signs on to the watch."""

    watcher = PersonField(label="Takes the watch", queryset=Person.objects.none())

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        offer_people(shop, self.fields["watcher"], in_short=True)


class SignForm(forms.Form):
    """A round, the end of the watch, or the second look, by name."""

    what = forms.ChoiceField(choices=SIGNS)
    signed_by = forms.CharField(label="Signed by", max_length=80)
    words = forms.CharField(label="Where, and what was found", max_length=160, required=False)


class AskForm(forms.Form):
    """A point of the club's own, or the number of one to be asked no more."""

    words = forms.CharField(label="What is asked", max_length=160, required=False)
    if_no = forms.CharField(label="What to do after a no", max_length=160, required=False)
    drop = forms.IntegerField(required=False)
