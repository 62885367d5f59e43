"""Wherever a person is chosen, two of one name are told apart."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from importlib import import_module
from itertools import count
from typing import Any

import pytest
from django import forms
from django.apps import apps
from django.test import Client

from inventory.places.models import Shop
from tests.factories import (
    TODAY,
    make_night,
    make_person,
    make_sign_off,
    make_sign_up,
    make_station,
)
from tests.floors import ROOT
from workshops.access.models import User
from workshops.people.fields import PersonField
from workshops.people.models import Person
from workshops.stations.models import Level

# Never shown as a list to choose from: the page writes each name on a button of its own.
ON_BUTTONS = {
    "workshops.trouble.forms.ReportForm.people", "workshops.trouble.forms.ReopenForm.lead",
    "workshops.tonight.forms.AskForm.person", "workshops.tonight.forms.TapForm.person",
}  # fmt: skip


def fields_of_people() -> Iterator[tuple[str, forms.Field]]:
    """Every field of every form in which people are chosen."""
    for app in apps.get_app_configs():
        if not app.name.startswith("workshops."):
            continue
        folder = ROOT / app.name.replace(".", "/")
        for path in sorted(folder.rglob("*form*.py")):
            module = import_module(".".join(path.relative_to(ROOT).with_suffix("").parts))
            for form in vars(module).values():
                if isinstance(form, type) and form.__module__ == module.__name__:
                    for name, field in getattr(form, "base_fields", {}).items():
                        if getattr(getattr(field, "queryset", None), "model", None) is Person:
                            yield f"{module.__name__}.{form.__name__}.{name}", field


def test_every_field_in_which_a_person_is_chosen_tells_two_of_one_name_apart() -> None:
    plain = {name for name, field in fields_of_people() if not isinstance(field, PersonField)}
    assert plain <= ON_BUTTONS
    assert len(list(fields_of_people())) > 6


@pytest.fixture
def namesakes(shop: Shop, clock: Any) -> list[Person]:
    """Two of one name, both of them authorisers, and a learner between them; all come tonight."""
    weld = make_station(shop, name="Weld", kind="weld", level_needed=Level.ALONE)
    people = [make_person(shop, first_name="Jo", last_name="Berg") for _ in range(2)]
    night, mina = make_night(shop), make_person(shop, first_name="Mina")
    for each in people:
        make_sign_off(each, weld, Level.MAY_SIGN)
        make_sign_up(night, each)
    make_sign_off(mina, weld, Level.WITH_A_LEAD, valid_until=TODAY)
    make_sign_up(night, mina)
    return [*people, mina]


PAGES = [
    "people/{mina}/guardian/", "people/{mina}/sign-off/", "training/timetable/",
    "training/re-sign/{mina}/{station}/", "nights/2026-01-14/group/",
    "nights/2026-01-14/", "nights/2026-01-14/permit/", "nights/2026-01-14/roll/",
]  # fmt: skip


def test_no_list_of_any_page_has_one_name_twice(
    shop: Shop, namesakes: list[Person], coordinator: User, client_of: Callable[[User], Client]
) -> None:
    client, seen = client_of(coordinator), count()
    for page in PAGES:
        told = {"mina": namesakes[-1].pk, "station": shop.station_set.get().pk}
        answer = client.get(f"/teal-point/{page.format(**told)}")
        assert answer.status_code == 200, page
        for select in re.findall(r"<select.*?</select>", answer.content.decode(), re.DOTALL):
            names = [each.strip() for each in re.findall(r"<option[^>]*>([^<]*)", select)]
            assert len(names) == len(set(names)), f"{page}: {names}"
            next(seen) if any("Jo B" in name for name in names) else None
    assert next(seen) >= 4, "few pages offered the two"
