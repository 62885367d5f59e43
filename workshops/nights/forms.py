"""Forms of the slice; each says what is wrong in one sentence by the field."""

from __future__ import annotations

from typing import Any

from django import forms

from inventory.places.models import Shop
from workshops.nights.models import Night, SignUp
from workshops.nights.repeating import Weekday
from workshops.people.fields import PersonField, offer_people
from workshops.people.models import Person


class Clock(forms.TimeInput):
    """A time picked with the tablet's own clock."""

    input_type = "time"

    def __init__(self) -> None:
        super().__init__(format="%H:%M")


class NightForm(forms.Form):
    """A night on the calendar."""

    on = forms.DateField(label="Day", widget=forms.DateInput(attrs={"type": "date"}))
    kind = forms.ChoiceField(label="Kind of night", choices=Night.Kind.choices)
    doors = forms.TimeField(label="Doors open", widget=Clock(), initial="18:00")
    stop = forms.TimeField(label="Stop, count and sweep", widget=Clock(), initial="20:30")
    lock_up = forms.TimeField(label="Lock-up", widget=Clock(), initial="21:00")
    goal = forms.CharField(label="Goal of the night", max_length=120, required=False)


class RepeatForm(forms.Form):
    """Nights that repeat, until a day or a number of them."""

    first = forms.DateField(label="From", widget=forms.DateInput(attrs={"type": "date"}))
    weekdays = forms.TypedMultipleChoiceField(
        label="On", coerce=lambda day: Weekday(int(day)), widget=forms.CheckboxSelectMultiple,
        choices=[(int(day), day.name.title()) for day in Weekday],
    )  # fmt: skip
    every_weeks = forms.IntegerField(
        label="Every so many weeks", min_value=1, max_value=8, initial=1,
        help_text="1 is every week, 2 every other week",
    )  # fmt: skip
    count = forms.IntegerField(label="Number of nights", min_value=1, max_value=60, required=False)
    until = forms.DateField(
        label="Or the last day", widget=forms.DateInput(attrs={"type": "date"}), required=False
    )
    week_starts = forms.TypedChoiceField(
        label="A week begins on", coerce=lambda day: Weekday(int(day)), initial=0,
        choices=[(0, "Monday"), (6, "Sunday")],
        help_text="Matters only when weeks are left out.",
    )  # fmt: skip
    kind = forms.ChoiceField(label="Kind of night", choices=Night.Kind.choices)
    doors = forms.TimeField(label="Doors open", widget=Clock(), initial="18:00")
    stop = forms.TimeField(label="Stop, count and sweep", widget=Clock(), initial="20:30")
    lock_up = forms.TimeField(label="Lock-up", widget=Clock(), initial="21:00")


class ComingForm(forms.Form):
    """Who means to come."""

    person = PersonField(label="Who", queryset=Person.objects.none())
    answer = forms.ChoiceField(label="Answer", choices=SignUp.Answer.choices)
    arrives = forms.TimeField(
        label="Arrives", widget=Clock(), required=False, help_text="empty: when the doors open"
    )
    leaves = forms.TimeField(
        label="Leaves", widget=Clock(), required=False, help_text="empty: at lock-up"
    )

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        offer_people(shop, self.fields["person"], in_short=True)


class ReasonForm(forms.Form):
    """Why a night is cancelled."""

    reason = forms.CharField(label="Why", max_length=300, help_text="snow, no heat, no key")
