"""Forms of the slice."""

from __future__ import annotations

from datetime import date
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from inventory.places.models import Shop
from workshops.nights.models import Night
from workshops.people.models import Person
from workshops.stations.models import Station
from workshops.tonight.models import Ask


class TapForm(forms.Form):
    """Who is not coming; the key makes sure that two presses are one."""

    person = forms.ModelChoiceField(queryset=Person.objects.none())
    client_key = forms.UUIDField()

    def __init__(self, *given: Any, shop: Shop, **options: Any) -> None:
        super().__init__(*given, **options)
        self.fields["person"].queryset = Person.objects.filter(shop=shop)  # type: ignore[attr-defined]


class KeyForm(forms.Form):
    """The key of one press."""

    client_key = forms.UUIDField()


class AskForm(forms.Form):
    """Who was asked, for which station."""

    person = forms.ModelChoiceField(queryset=Person.objects.none())
    station = forms.ModelChoiceField(queryset=Station.objects.none())

    def __init__(self, *given: Any, shop: Shop, **options: Any) -> None:
        super().__init__(*given, **options)
        self.fields["person"].queryset = Person.objects.filter(shop=shop)  # type: ignore[attr-defined]
        self.fields["station"].queryset = Station.objects.filter(shop=shop)  # type: ignore[attr-defined]


class ReplyForm(forms.Form):
    """What somebody said who was asked."""

    reply = forms.ChoiceField(choices=[each for each in Ask.Reply.choices if each[0]])


class OffForm(forms.Form):
    """Why a night is off, and to which night its people go."""

    reason = forms.CharField(label="Why is it off?", max_length=300, help_text="Those who meant to"
                             " come are told this: snow, no heat, no key.")  # fmt: skip
    to = forms.ModelChoiceField(
        label="Move those who meant to come to", queryset=Night.objects.none(), required=False,
        empty_label="no other night", help_text="They are noted there as “perhaps”, with their"
        " times. Who has answered for that night keeps that answer.",
    )  # fmt: skip
    on = forms.DateField(
        label="or instead to a new night on", required=False,
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        help_text="A night with the same hours is put on the calendar.",
    )  # fmt: skip

    def __init__(
        self, *given: Any, night: Night, today: date, may_add: bool, **options: Any
    ) -> None:
        super().__init__(*given, **options)
        self.today = today
        planned = Night.objects.filter(
            shop=night.shop_id, status=Night.Status.PLANNED, date__gte=today
        ).exclude(pk=night.pk)
        to: Any = self.fields["to"]
        to.queryset = planned.order_by("date")
        to.initial = planned.filter(date__gt=night.date).order_by("date").first()
        if night.status == Night.Status.CANCELLED:
            del self.fields["reason"]
        if not may_add:
            del self.fields["on"]

    def clean_on(self) -> date | None:
        """A day that is still to come."""
        on: date | None = self.cleaned_data["on"]
        if on and on < self.today:
            raise ValidationError("That day is behind us.")
        return on
