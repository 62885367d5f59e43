"""Forms say what is wrong by the field, and offer nothing of another shop."""

from __future__ import annotations

from uuid import uuid4

import pytest

from tests.factories import make_operation, make_person, make_station
from workshops.nights.forms import ComingForm, NightForm, PermitForm, PersonForm, TallyForm

NIGHT = {"on": "2026-02-04", "kind": "mixed", "doors": "18:00", "stop": "20:30", "lock_up": "21:00"}


def tally(scene, **given) -> TallyForm:
    usual = {"operation": scene.operations["drill"].pk, "client_key": str(uuid4())}
    return TallyForm(usual | given, shop=scene.shop)


def test_a_night_is_read_from_its_day_and_times() -> None:
    form = NightForm(NIGHT)
    assert form.is_valid()
    assert form.cleaned_data["goal"] == ""


@pytest.mark.parametrize(
    ("field", "value"), [("on", "30 February"), ("doors", "late"), ("kind", "wet"), ("stop", "")]
)
def test_what_cannot_be_read_is_told_at_its_field(field, value) -> None:
    assert set(NightForm(NIGHT | {field: value}).errors) == {field}


@pytest.mark.parametrize("form", [ComingForm, PersonForm, PermitForm])
def test_only_people_on_this_shops_list_are_offered(scene, other_shop, form) -> None:
    make_person(other_shop)
    make_person(scene.shop, is_active=False)
    fields = form(shop=scene.shop).fields
    [field] = [fields[name] for name in ("person", "watcher") if name in fields]
    assert {person.pk for person in field.queryset} == {p.pk for p in scene.people.values()}


def test_two_of_one_name_are_told_apart_in_the_list(scene) -> None:
    scene.join("Ada")
    labels = [label for _, label in PersonForm(shop=scene.shop).fields["person"].choices]
    assert len([label for label in labels if label.startswith("Ada R.")]) == 2
    assert len(set(labels)) == len(labels)


def test_an_empty_count_is_nought(scene) -> None:
    form = tally(scene, good="3")
    assert form.is_valid()
    assert [form.cleaned_data[name] for name in ("good", "hold", "scrap")] == [3, 0, 0]


@pytest.mark.parametrize(("good", "add", "all_good"), [("", "1", 1), ("5", "10", 15), ("5", "", 5)])
def test_a_button_comes_on_top_of_what_was_written(scene, good, add, all_good) -> None:
    form = tally(scene, good=good, add=add)
    assert form.is_valid()
    assert form.cleaned_data["good"] == all_good


@pytest.mark.parametrize("good", ["-1", "1.5", "many", "10000"])
def test_a_count_that_cannot_be_is_told_by_its_field(scene, good) -> None:
    form = tally(scene, good=good)
    assert not form.is_valid()
    assert form.told().startswith("Good: ")


def test_a_count_without_its_key_is_refused(scene) -> None:
    assert "This form: " in tally(scene, good="1", client_key="").told()


def test_work_of_another_shop_or_out_of_use_is_not_counted(scene, other_shop) -> None:
    there = make_operation(make_station(other_shop))
    idle = make_operation(scene.tag, is_in_use=False)
    for operation in (there, idle):
        assert "Operation: " in tally(scene, good="1", operation=operation.pk).told()
