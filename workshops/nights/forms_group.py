"""The form of a group: short enough for a queue at the door."""

from __future__ import annotations

import uuid
from typing import Any

from django import forms

from inventory.places.models import Shop
from workshops.nights.actions.group import MOST_MEMBERS, Member
from workshops.people.fields import PersonField, offer_people
from workshops.people.models import Person

HERE, LATER = "here", "later"
OLDEST = 110


def age_in(text: str) -> int | None:
    """An age in years, or None for anything else."""
    text = text.strip()
    return int(text) if text.isdecimal() and len(text) < 4 and int(text) <= OLDEST else None


def member_in(line: str) -> Member:
    """One line of names: ``Ann Lee, 14`` or ``Ann Lee`` or ``Ann``."""
    name, _, age = line.partition(",")
    first, _, last = name.strip().partition(" ")
    return Member(first, last.strip(), age_in(age))


class GroupForm(forms.Form):
    """Who came together."""

    name = forms.CharField(label="Group", max_length=40, help_text="Troop 41, Class 9b")
    leader_1 = PersonField(label="Leader on the list", queryset=Person.objects.none(),
                           required=False, empty_label="nobody")  # fmt: skip
    leader_2 = PersonField(label="Another on the list", queryset=Person.objects.none(),
                           required=False, empty_label="nobody")  # fmt: skip
    new_leaders = forms.CharField(
        label="Leaders not on the list yet, one a line", required=False,
        widget=forms.Textarea({"rows": 2}), help_text="Grown-ups, by their own word.",
    )  # fmt: skip
    count = forms.IntegerField(
        label="How many members, without the leaders", min_value=1, max_value=MOST_MEMBERS
    )
    names = forms.CharField(
        label="Names, one a line, with the age behind a comma", required=False,
        widget=forms.Textarea({"rows": 3}), help_text="Ann Lee, 14. May be written later.",
    )  # fmt: skip
    age = forms.IntegerField(
        label="Age of the youngest", required=False, min_value=1, max_value=OLDEST,
        help_text="Counts for everybody without an age of their own. Empty: all count as minors.",
    )  # fmt: skip
    papers = forms.ChoiceField(
        label="Signed waivers and the parents' consent", widget=forms.RadioSelect, initial=LATER,
        choices=[(HERE, "lie here, for everybody"), (LATER, "are missing, or still with a leader")],
    )  # fmt: skip
    are_here = forms.BooleanField(label="They are in the building now", required=False)
    client_key = forms.UUIDField(label="This form", widget=forms.HiddenInput)

    def __init__(self, *args: Any, shop: Shop, is_tonight: bool, **kwargs: Any) -> None:
        kwargs["initial"] = {"are_here": is_tonight, "client_key": uuid.uuid4()}
        super().__init__(*args, **kwargs)
        offer_people(shop, self.fields["leader_1"], self.fields["leader_2"], in_short=True)

    def clean(self) -> dict[str, Any]:
        """As many names as members, or fewer."""
        given = super().clean() or {}
        lines = _lines(given.get("names", ""))
        if len(lines) > (given.get("count") or MOST_MEMBERS):
            self.add_error("names", "More names than members: mend one of the two.")
        return given

    def group(self) -> dict[str, Any]:
        """What the action takes."""
        given = self.cleaned_data
        told = [member_in(line) for line in _lines(given["names"])]
        told += [Member()] * (given["count"] - len(told))
        usual = given["age"]
        return {
            "name": given["name"],
            "leaders": [row for row in (given["leader_1"], given["leader_2"]) if row],
            "new_leaders": [member_in(line) for line in _lines(given["new_leaders"])],
            "members": [
                Member(row.first_name, row.last_name, usual if row.age is None else row.age)
                for row in told
            ],
            "papers_here": given["papers"] == HERE,
            "are_here": given["are_here"],
            "client_key": given["client_key"],
        }


def _lines(text: str) -> list[str]:
    return [line.strip() for line in text.splitlines() if line.strip()]
