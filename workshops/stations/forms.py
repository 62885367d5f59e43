"""The forms of stations and tools."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.text import slugify

from inventory.places.models import Room, Shop
from workshops.common.fields import SeveralField
from workshops.stations.models import Station


class WordsField(forms.CharField):
    """A list of words, typed with commas between them."""

    def to_python(self, value: Any) -> Any:
        """The words without blanks around them; empty ones are left out."""
        if isinstance(value, list):
            return value
        return [word.strip() for word in str(value or "").split(",") if word.strip()]

    def prepare_value(self, value: Any) -> Any:
        """The words with commas between."""
        return ", ".join(value) if isinstance(value, list) else value


class StationForm(forms.ModelForm[Station]):
    """A station: where, how many benches, what the work is like, who may stand there."""

    wear = WordsField(label="Wear", required=False, help_text="Words with commas: eyes, sleeves")
    never_wear = WordsField(label="Never wear", required=False, help_text="gloves, loose hair")

    class Meta:
        model = Station
        fields = [
            "name", "kind", "room", "sequence", "is_in_use", "benches", "crew_min", "crew_max",
            "heads_wanted", "level_needed", "prerequisites", "age_min", "learners_per_lead",
            "is_spark", "is_hooded", "is_straw", "is_dusty", "is_heavy", "can_sit",
            "is_off_floor",
            "needs_buddy", "wear", "never_wear", "weld_process", "weld_amperes",
        ]  # fmt: skip
        field_classes = {"prerequisites": SeveralField}
        widgets = {"prerequisites": forms.CheckboxSelectMultiple}
        labels = {
            "sequence": "Order on pages",
            "is_in_use": "In use",
            "crew_min": "People one bench needs",
            "crew_max": "People one bench holds",
            "level_needed": "Sign-off it takes",
            "prerequisites": "Sign-offs needed first",
            "age_min": "Youngest age",
            "weld_amperes": "Amperes",
        }

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        others = Station.objects.filter(shop=shop).exclude(pk=self.instance.pk)
        self.fields["prerequisites"].queryset = others  # type: ignore[attr-defined]
        rooms = Room.objects.filter(shop=shop)
        self.fields["room"].queryset = rooms  # type: ignore[attr-defined]

    def new_fields(self) -> dict[str, Any]:
        """What a new station needs: the fields, and an address from its name."""
        return dict(self.cleaned_data) | {"slug": slugify(self.cleaned_data["name"])[:40]}


class ToolForm(forms.Form):
    """A tool, or so many alike."""

    name = forms.CharField(label="Name", max_length=60)
    number = forms.CharField(label="Number painted on it", max_length=20, required=False)
    count = forms.IntegerField(label="How many alike", min_value=1, max_value=200, initial=1)
    inspection_months = forms.IntegerField(
        label="Inspected every so many months", min_value=0, max_value=120, required=False,
        help_text="Empty: as the club's rule for such tools says. 0: no regular inspection.",
    )  # fmt: skip
    stations = SeveralField(
        Station.objects.none(), label="Used at", widget=forms.CheckboxSelectMultiple
    )

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        stations = Station.objects.filter(shop=shop, is_in_use=True)
        self.fields["stations"].queryset = stations  # type: ignore[attr-defined]


class InspectionForm(forms.Form):
    """A tool was inspected."""

    on = forms.DateField(label="Inspected on", widget=forms.DateInput({"type": "date"}))
    inspected_by = forms.CharField(label="By whom", max_length=80)
    found = forms.CharField(label="What was found", max_length=300, required=False)
    months = forms.IntegerField(
        label="Again after so many months", min_value=0, max_value=120, required=False,
        help_text="Empty: as the club's rule for such tools says. 0: no regular inspection.",
    )  # fmt: skip


class FaultForm(forms.Form):
    """A tool goes out of service."""

    count = forms.IntegerField(label="How many", min_value=1, initial=1)
    fault = forms.CharField(label="What is wrong", max_length=200)
