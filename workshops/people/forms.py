"""The forms of people, sign-offs, bars, waivers and guardians."""

from __future__ import annotations

from datetime import date
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.db.models import QuerySet

from inventory.places.models import Shop
from workshops.access.models import User
from workshops.club.fields import DayOfYearField
from workshops.common.fields import SeveralField
from workshops.common.sheets import BYTES_MOST, SheetRefused
from workshops.people.exchange.commit import read_people
from workshops.people.fields import PersonField, offer_people
from workshops.people.models import Person, Review
from workshops.people.points import points_of
from workshops.people.queries import namesakes
from workshops.stations.models import Level, Station


def day_field(label: str, **kwargs: Any) -> forms.DateField:
    """A date with the browser's own calendar."""
    return forms.DateField(label=label, widget=forms.DateInput({"type": "date"}), **kwargs)


class PersonForm(forms.ModelForm[Person]):
    """Everything the club keeps of a person."""

    class Meta:
        model = Person
        fields = [
            "first_name", "last_name", "born_on", "is_adult_declared", "phone", "email",
            "emergency_contact", "no_dust", "seated_only", "no_heavy", "likes", "joined_on",
            "is_active", "note",
        ]  # fmt: skip
        field_classes = {"likes": SeveralField}
        widgets = {
            "born_on": forms.DateInput({"type": "date"}),
            "joined_on": forms.DateInput({"type": "date"}),
            "likes": forms.CheckboxSelectMultiple,
        }
        help_texts = {"is_adult_declared": "", "born_on": "Needed for anyone under age."}
        labels = {
            "born_on": "Date of birth",
            "is_adult_declared": "Says they are of age",
            "no_dust": "No dust, straw or hay",
            "seated_only": "Works seated only",
            "no_heavy": "No heavy lifting",
            "likes": "Likes to work at",
            "is_active": "On the club's list",
        }

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        stations = Station.objects.filter(shop=shop, is_in_use=True)
        self.fields["likes"].queryset = stations  # type: ignore[attr-defined]


class WalkInForm(forms.Form):
    """The least that lets somebody in at the door start: name, age, waiver."""

    first_name = forms.CharField(label="First name", max_length=60)
    last_name = forms.CharField(label="Last name", max_length=60, required=False)
    is_adult_declared = forms.BooleanField(label="Says they are of age", required=False)
    born_on = day_field("Date of birth, when under age", required=False)
    no_dust = forms.BooleanField(label="No dust, straw or hay", required=False)
    seated_only = forms.BooleanField(label="Works seated only", required=False)
    no_heavy = forms.BooleanField(label="No heavy lifting", required=False)
    waiver_version = forms.CharField(
        label="Waiver signed just now: which wording", max_length=20, required=False,
        help_text="The year on the sheet. Leave empty when it is not signed.",
    )  # fmt: skip
    is_another = forms.BooleanField(
        label="This is somebody else of the same name", required=False, widget=forms.HiddenInput
    )

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        self.shop = shop
        self.alike: list[Person] = []
        super().__init__(*args, **kwargs)

    def clean(self) -> dict[str, Any]:
        """Ask before a name is put on the list a second time, and for an age."""
        cleaned: dict[str, Any] = super().clean() or {}
        if not cleaned.get("is_adult_declared") and not cleaned.get("born_on"):
            self.add_error(
                "is_adult_declared", "Tick this, or write the date of birth of a young person."
            )
        names = cleaned.get("first_name", ""), cleaned.get("last_name", "")
        self.alike = list(namesakes(self.shop, *names)) if names[0] else []
        if self.alike and not cleaned.get("is_another"):
            self.fields["is_another"].widget = forms.CheckboxInput()
            raise ValidationError(
                "Somebody of that name is on the list already. Is it them? Then take them from "
                "the list; else tick the box below."
            )
        return cleaned


class SignOffForm(forms.Form):
    """A sign-off: what was seen, how far the person may go, who signs."""

    station = forms.ModelChoiceField(Station.objects.none(), label="Station", empty_label="choose")
    level = forms.TypedChoiceField(
        label="How far", coerce=int, choices=Level.choices, widget=forms.RadioSelect
    )
    signed_by = PersonField(Person.objects.none(), label="Signed by", empty_label="choose")
    points = forms.MultipleChoiceField(
        label="Shown, from the station's own list",
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )
    evidence = forms.CharField(
        label="What was shown",
        max_length=300,
        required=False,
        help_text="What you saw them do, in a few words; may stay empty when points are ticked.",
    )
    on = day_field("Signed on")
    valid_until = day_field(
        "Valid until", required=False, help_text="Empty for as long as the club's rule has it."
    )

    def __init__(
        self, *args: Any, shop: Shop, signers: list[Person], today: date, **kwargs: Any
    ) -> None:
        initial = {"on": today, "signed_by": signers[0] if len(signers) == 1 else None}
        kwargs["initial"] = initial | kwargs.get("initial", {})
        super().__init__(*args, **kwargs)
        stations = Station.objects.filter(shop=shop, is_in_use=True)
        self.fields["station"].queryset = stations  # type: ignore[attr-defined]
        chosen = Person.objects.filter(pk__in=[signer.pk for signer in signers])
        offer_people(shop, self.fields["signed_by"], people=chosen)
        self._offer_points(stations)

    def _offer_points(self, stations: QuerySet[Station]) -> None:
        """The list of the station chosen; none to tick until one is."""
        asked = str(self.data.get("station") or self.initial.get("station") or "")
        station = stations.filter(pk=asked).first() if asked.isdecimal() else None
        points = points_of(station) if station else []
        self.fields["points"].choices = [(each, each) for each in points]  # type: ignore[attr-defined]
        if not points:
            self.fields["points"].widget = forms.MultipleHiddenInput()


class PaperSignOffForm(forms.Form):
    """A sign-off taken over from the club's own register."""

    station = forms.ModelChoiceField(Station.objects.none(), label="Station", empty_label="choose")
    level = forms.TypedChoiceField(
        label="How far", coerce=int, choices=Level.choices, widget=forms.RadioSelect
    )
    evidence = forms.CharField(
        label="Where it stands", max_length=300, help_text="Register of 2025, page 4."
    )
    on = day_field("Signed on")
    valid_until = day_field("Valid until", required=False)

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        stations = Station.objects.filter(shop=shop, is_in_use=True)
        self.fields["station"].queryset = stations  # type: ignore[attr-defined]


class BarForm(forms.Form):
    """Stop a person at once."""

    station = forms.ModelChoiceField(
        Station.objects.none(), label="From", required=False, empty_label="every station"
    )
    reason = forms.CharField(label="Reason", max_length=300, help_text="What happened.")
    until = day_field(
        "Until", required=False, help_text="The last day. Empty: until somebody lifts it."
    )
    only_with_a_lead = forms.BooleanField(
        label="May go on there beside a lead", required=False,
        help_text="A suspension to see a lead: choose the one station.",
    )  # fmt: skip

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        stations = Station.objects.filter(shop=shop, is_in_use=True)
        self.fields["station"].queryset = stations  # type: ignore[attr-defined]


class ReviewForm(forms.Form):
    """What a second look at a sign-off found."""

    verdict = forms.ChoiceField(
        label="What did the second look find?",
        widget=forms.RadioSelect,
        choices=(
            (Review.Verdict.STANDS, "It stands"),
            (Review.Verdict.WITHDRAWN, "It counts no more, from today on"),
            (Review.Verdict.MISTAKE, "It was entered by mistake and never counted"),
        ),
    )
    reason = forms.CharField(label="Reason", max_length=300, help_text="What you saw or were told.")


class LifetimeForm(forms.Form):
    """How long a sign-off for one station counts, and who decided it."""

    months = forms.IntegerField(
        label="Counts for (months)", required=False, min_value=1, max_value=60
    )
    ends_on = DayOfYearField(label="Ends at the latest on", required=False)
    unused_months = forms.IntegerField(
        label="Lapses without use after (months)", required=False, min_value=1, max_value=60,
        help_text="Counted from tallies and placings. All three empty: the club's general rules.",
    )  # fmt: skip
    decided_by = forms.CharField(label="Decided by", max_length=80)
    decided_on = day_field("Decided on")
    source = forms.CharField(
        label="From what", max_length=200, help_text="A code, a policy, the insurer, a meeting."
    )


class BringForm(forms.Form):
    """The list is read here once, so that a file which is no list is refused at once."""

    file = forms.FileField(
        label="The file", help_text="CSV or XLSX; nothing is written yet", max_length=200,
        widget=forms.FileInput(attrs={"accept": ".csv,.xlsx,.txt"}),
    )  # fmt: skip

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.shop, self.content = shop, b""

    def clean(self) -> dict[str, Any]:
        """The file must be a list of people, whatever its rows say."""
        given: dict[str, Any] = super().clean() or {}
        file = given.get("file")
        if file is None:
            return given
        # One byte more than fits: the reader then says so, and a large file is not held.
        self.content = file.read(BYTES_MOST + 1)
        try:
            read_people(self.shop, self.content)
        except SheetRefused as refused:
            self.add_error("file", str(refused))
        return given


class WaiverForm(forms.Form):
    """A waiver the person signed."""

    version = forms.CharField(
        label="Which wording", max_length=20, help_text="The year on the sheet."
    )
    on = day_field("Signed on")
    valid_until = day_field(
        "Valid until", required=False, help_text="Empty for as long as the club's rule has it."
    )


class GuardianForm(forms.Form):
    """A grown-up who answers for a minor."""

    guardian = PersonField(Person.objects.none(), label="Guardian", empty_label="choose")
    consent_on = day_field("Consent signed on", required=False)
    may_collect = forms.BooleanField(label="May collect the child", required=False, initial=True)

    def __init__(self, *args: Any, minor: Person, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        others = Person.objects.filter(shop_id=minor.shop_id).active().exclude(pk=minor.pk)
        offer_people(minor.shop, self.fields["guardian"], people=others)


class AccountForm(forms.Form):
    """The account with which a person signs in."""

    user = forms.ModelChoiceField(
        User.objects.none(), label="Account", required=False, empty_label="none"
    )

    def __init__(self, *args: Any, shop: Shop, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        members = User.objects.filter(memberships__shop=shop)
        self.fields["user"].queryset = members  # type: ignore[attr-defined]
