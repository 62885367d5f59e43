"""Forms of the slice; each says what is wrong in one sentence by the field."""

from __future__ import annotations

from typing import Any

from django import forms

from inventory.places.models import Shop
from workshops.nights.models import Night, SignUp
from workshops.nights.repeating import Weekday
from workshops.people.fields import PersonField, offer_people
from workshops.people.models import Person
from workshops.stations.models import Operation


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


class PersonForm(forms.Form):
    """One person of the shop."""

    person = PersonField(label="Who", queryset=Person.objects.none())

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        offer_people(shop, self.fields["person"], in_short=True)


class ReasonForm(forms.Form):
    """Why a night is cancelled."""

    reason = forms.CharField(label="Why", max_length=300, help_text="snow, no heat, no key")


class TallyForm(forms.Form):
    """One count: good, on hold, scrap. The key makes sure it counts once.

    ``add`` is what a +1 or +10 button sends; it comes on top of what was written as good.
    """

    operation = forms.ModelChoiceField(label="Operation", queryset=Operation.objects.none())
    good = forms.IntegerField(label="Good", min_value=0, max_value=9999, required=False)
    hold = forms.IntegerField(label="Hold", min_value=0, max_value=9999, required=False)
    scrap = forms.IntegerField(label="Scrap", min_value=0, max_value=9999, required=False)
    add = forms.IntegerField(label="Good", min_value=0, max_value=9999, required=False)
    client_key = forms.UUIDField(label="This form", widget=forms.HiddenInput)

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        rows = Operation.objects.filter(shop=shop, is_in_use=True).select_related("recipe")
        self.fields["operation"].queryset = rows  # type: ignore[attr-defined]

    def clean(self) -> dict[str, Any]:
        """Whole numbers, nought where nothing was written."""
        given = super().clean() or {}
        more = given.pop("add", None) or 0
        counted = {name: given.get(name) or 0 for name in ("good", "hold", "scrap")}
        return given | counted | {"good": counted["good"] + more}

    def told(self) -> str:
        """What is wrong, field by field, in one line."""
        return " ".join(
            f"{self.fields[name].label}: {error}" if name in self.fields else str(error)
            for name, errors in self.errors.items()
            for error in errors
        )


class PermitForm(forms.Form):
    """Who keeps the fire watch."""

    watcher = PersonField(
        label="Fire watch", queryset=Person.objects.none(),
        help_text="not the welder, nothing else to do, stays to the end",
    )  # fmt: skip

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        offer_people(shop, self.fields["watcher"], in_short=True)


class WatchEndForm(forms.Form):
    """The end of the fire watch, signed by name."""

    last_spark = forms.TimeField(label="Last spark was at", widget=Clock())
    signed_by = forms.CharField(label="Signed by the fire watch", max_length=80)


class HandOverForm(forms.Form):
    """What the next opener must know."""

    words = forms.CharField(
        label="For the next opener", widget=forms.Textarea(attrs={"rows": 5}),
        help_text="what is left on each rack, faults, what is short, who to ring",
    )  # fmt: skip
