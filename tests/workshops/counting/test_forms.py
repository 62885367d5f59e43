"""A count is whole numbers, nought where nothing was written."""

from __future__ import annotations

from uuid import uuid4

import pytest

from tests.factories import make_operation, make_station
from workshops.counting.forms import TallyForm


def tally(scene, **given) -> TallyForm:
    usual = {"operation": scene.operations["drill"].pk, "client_key": str(uuid4())}
    return TallyForm(usual | given, shop=scene.shop)


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
