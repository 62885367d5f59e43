"""Forms say what is wrong by the field, and offer nothing of another shop."""

from __future__ import annotations

import pytest

from tests.factories import make_person
from workshops.nights.forms import ComingForm, NightForm
from workshops.nights.forms_permit import PermitForm

NIGHT = {"on": "2026-02-04", "kind": "mixed", "doors": "18:00", "stop": "20:30", "lock_up": "21:00"}


def test_a_night_is_read_from_its_day_and_times() -> None:
    form = NightForm(NIGHT)
    assert form.is_valid()
    assert form.cleaned_data["goal"] == ""


@pytest.mark.parametrize(
    ("field", "value"), [("on", "30 February"), ("doors", "late"), ("kind", "wet"), ("stop", "")]
)
def test_what_cannot_be_read_is_told_at_its_field(field, value) -> None:
    assert set(NightForm(NIGHT | {field: value}).errors) == {field}


@pytest.mark.parametrize("form", [ComingForm, PermitForm])
def test_only_people_on_this_shops_list_are_offered(scene, other_shop, form) -> None:
    make_person(other_shop)
    make_person(scene.shop, is_active=False)
    fields = form(shop=scene.shop).fields
    [field] = [fields[name] for name in ("person", "watcher") if name in fields]
    assert {person.pk for person in field.queryset} == {p.pk for p in scene.people.values()}


def test_two_of_one_name_are_told_apart_in_the_list(scene) -> None:
    scene.join("Ada")
    labels = [label for _, label in ComingForm(shop=scene.shop).fields["person"].choices]
    assert len([label for label in labels if label.startswith("Ada R.")]) == 2
    assert len(set(labels)) == len(labels)
