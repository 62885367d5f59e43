"""Forms of the winter say what is wrong by the field."""

from __future__ import annotations

import pytest

from tests.factories import make_item
from workshops.season.forms import IceForm, TargetForm, WinterForm

WINTER = {
    "name": "2026–27", "starts_on": "2026-11-01", "ends_on": "2027-03-31",
    "ready_from": "2027-03-01", "ready_by": "2027-03-15",
}  # fmt: skip


def test_a_winter_is_read_from_its_days() -> None:
    assert WinterForm(WINTER).is_valid()


@pytest.mark.parametrize(
    ("field", "value"), [("name", ""), ("ends_on", "spring"), ("ready_by", "")]
)
def test_what_cannot_be_read_is_told_at_its_field(field, value) -> None:
    assert set(WinterForm(WINTER | {field: value}).errors) == {field}


def test_only_complete_sets_of_this_shop_are_offered(shop, other_shop) -> None:
    mine = make_item(shop, kind="set")
    make_item(shop)
    make_item(other_shop, kind="set")
    assert list(TargetForm(shop=shop).fields["item"].queryset) == [mine]


@pytest.mark.parametrize("count", ["-1", "1.5", "many", "100000"])
def test_a_count_that_cannot_be_is_told_at_its_field(shop, count) -> None:
    item = make_item(shop, kind="set")
    form = TargetForm({"item": item.pk, "new": count, "replacements": 0, "spares": 0}, shop=shop)
    assert set(form.errors) == {"new"}


def test_the_ice_cannot_have_gone_tomorrow(shop, clock) -> None:
    assert IceForm({"water": "Heron Bay", "went_on": "2026-01-14"}).is_valid()
    form = IceForm({"water": "Heron Bay", "went_on": "2026-01-16"})
    assert "not come yet" in form.errors["went_on"][0]
