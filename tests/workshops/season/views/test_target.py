"""How many does the winter want? Kept, replaced, refused by the field."""

from __future__ import annotations

import pytest

from tests.factories import make_item
from workshops.nights.models import Aim
from workshops.season.models import Target


def given(season, **fields) -> dict[str, object]:
    usual = {"item": season.scene.stock.complete.pk, "new": 10, "replacements": 4, "spares": 1}
    return usual | fields


def test_a_target_is_kept_and_told(season, boss, at) -> None:
    shown = boss.post(at("target"), given(season), follow=True).content.decode()
    assert "The winter wants 15 Set." in shown
    assert Target.objects.get().count == 15
    assert Aim.objects.get().wanted == 15


def test_changing_a_target_starts_from_its_numbers(season, boss, at) -> None:
    boss.post(at("target"), given(season))
    item = season.scene.stock.complete.pk
    assert f'href="?item={item}"' in boss.get(at("target")).content.decode()
    shown = boss.get(at("target"), {"item": item}).content.decode()
    for number in ("10", "4", "1"):
        assert f'value="{number}"' in shown


@pytest.mark.parametrize("item", ["none", "999999", "9" * 30, ""])
def test_an_item_that_is_none_leaves_the_form_empty(season, boss, at, item) -> None:
    assert boss.get(at("target"), {"item": item}).status_code == 200


@pytest.mark.parametrize(
    ("fields", "told"),
    [({"new": "-1"}, "greater than or equal to 0"), ({"spares": "few"}, "whole number"),
     ({"item": ""}, "This field is required")],
)  # fmt: skip
def test_what_cannot_be_wanted_is_refused_by_the_field(season, boss, at, fields, told) -> None:
    answer = boss.post(at("target"), given(season, **fields))
    assert answer.status_code == 422
    assert told in answer.content.decode()
    assert not Target.objects.exists()


def test_another_shops_set_is_no_choice(season, boss, at, other_shop) -> None:
    there = make_item(other_shop, kind="set")
    answer = boss.post(at("target"), given(season, item=there.pk))
    assert "Select a valid choice" in answer.content.decode()


def test_without_a_winter_the_page_leads_to_beginning_one(shop, boss, at) -> None:
    answer = boss.get(at("target"))
    assert answer["Location"] == at("begin")


def test_only_the_coordinator_sets_it(season, duty_lead, stranger, client_of, at) -> None:
    assert client_of(duty_lead).post(at("target"), given(season)).status_code == 403
    assert client_of(stranger).post(at("target"), given(season)).status_code == 404
    assert not Target.objects.exists()
