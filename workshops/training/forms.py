"""The forms of the timetable and of the re-sign evening."""

from __future__ import annotations

from datetime import date
from typing import Any

from django import forms

from inventory.places.models import Shop
from workshops.nights.models import Night
from workshops.people.fields import PersonField, offer_people
from workshops.people.models import Person
from workshops.people.points import points_of
from workshops.stations.models import Level, Station


class DateForm(forms.Form):
    """A line of the timetable."""

    learner = PersonField(Person.objects.none(), label="Who learns")
    station = forms.ModelChoiceField(Station.objects.none(), label="Where")
    lead = PersonField(Person.objects.none(), label="Beside whom")
    night = forms.ModelChoiceField(Night.objects.none(), label="On which night")

    def __init__(self, *args: Any, shop: Shop, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        planned = Night.objects.filter(
            shop=shop, date__gte=today, status=Night.Status.PLANNED
        ).order_by("date")
        stations = Station.objects.filter(
            shop=shop, is_in_use=True, level_needed__gte=Level.WITH_A_LEAD
        )
        offer_people(shop, self.fields["learner"], self.fields["lead"])
        self.fields["station"].queryset = stations  # type: ignore[attr-defined]
        self.fields["night"].queryset = planned  # type: ignore[attr-defined]


class ResignForm(forms.Form):
    """What was shown, and who saw it."""

    signed_by = PersonField(Person.objects.none(), label="Seen and signed by")
    points = forms.MultipleChoiceField(
        label="Shown tonight", required=False, widget=forms.CheckboxSelectMultiple
    )
    evidence = forms.CharField(
        label="In a few words", max_length=300, required=False,
        help_text="May stay empty when points are ticked.",
    )  # fmt: skip

    def __init__(self, *args: Any, station: Station, signers: list[Person], **kwargs: Any) -> None:
        if len(signers) == 1:
            kwargs["initial"] = {"signed_by": signers[0]} | kwargs.get("initial", {})
        super().__init__(*args, **kwargs)
        chosen = Person.objects.filter(pk__in=[each.pk for each in signers])
        offer_people(station.shop, self.fields["signed_by"], people=chosen)
        points = points_of(station)
        self.fields["points"].choices = [(each, each) for each in points]  # type: ignore[attr-defined]
        if not points:
            self.fields["points"].widget = forms.MultipleHiddenInput()
