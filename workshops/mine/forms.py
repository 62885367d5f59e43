"""The forms of one's own pages."""

from __future__ import annotations

from django import forms

from workshops.nights.actions.calendar import MOST_GUESTS
from workshops.nights.models import SignUp
from workshops.people.models import Person


class LinkForm(forms.Form):
    """Where to send the link."""

    email = forms.EmailField(
        label="E-mail", help_text="The one your club has on its list.",
        widget=forms.EmailInput({"autocomplete": "email"}),
    )  # fmt: skip


class Clock(forms.TimeInput):
    """A time picked with the device's own clock."""

    input_type = "time"

    def __init__(self) -> None:
        super().__init__(format="%H:%M")


class AnswerForm(forms.Form):
    """Whether one comes, from when to when, and with whom."""

    answer = forms.ChoiceField(
        label="Do you come?", widget=forms.RadioSelect,
        choices=[(SignUp.Answer.YES, "Yes"), (SignUp.Answer.MAYBE, "Maybe"),
                 (SignUp.Answer.NO, "No")],
    )  # fmt: skip
    arrives = forms.TimeField(
        label="I arrive at", widget=Clock(), required=False,
        help_text="Empty: when the doors open.",
    )  # fmt: skip
    leaves = forms.TimeField(
        label="I leave at", widget=Clock(), required=False, help_text="Empty: at lock-up."
    )
    guests = forms.IntegerField(
        label="I bring so many guests", min_value=0, max_value=MOST_GUESTS, required=False
    )
    guest_names = forms.CharField(
        label="Their names", max_length=200, required=False, help_text="May be told at the door."
    )
    note = forms.CharField(
        label="A note for whoever runs the night", max_length=200, required=False
    )


class DetailsForm(forms.ModelForm[Person]):
    """What a person may change of what the club keeps of them."""

    class Meta:
        model = Person
        fields = [
            "first_name", "last_name", "phone", "email", "emergency_contact", "no_dust",
            "seated_only", "no_heavy",
        ]  # fmt: skip
        labels = {
            "emergency_contact": "Whom to call in an emergency",
            "no_dust": "I work without dust, straw or hay",
            "seated_only": "I work seated only",
            "no_heavy": "I lift nothing heavy",
        }
        help_texts = {"email": "Your link and your letters go there."}


class CalendarForm(forms.Form):
    """What the calendar shows."""

    has_all_nights = forms.BooleanField(
        label="Also show nights I have not said yes or maybe to", required=False
    )
