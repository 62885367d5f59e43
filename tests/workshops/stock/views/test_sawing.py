"""At the saw: one press a stick, taken back, a stick that was different, the rest anew."""

from __future__ import annotations

from uuid import uuid4

import pytest

from inventory.cutting.actions import make_cut_list
from inventory.cutting.models import CutListRun, CutTick
from inventory.ledger.models import Entry
from inventory.ledger.queries import pieces_of
from inventory.measures.lengths import feet, inches
from tests.factories import make_place
from tests.inventory.winter import Stock


@pytest.fixture
def run(stock: Stock) -> CutListRun:
    """Two sticks of two posts each."""
    pieces = [("Post", feet(7), 4)]
    return make_cut_list(shop=stock.shop, item=stock.tube, pieces=pieces, by=None)


def press(keeper, at, run: CutListRun, do: str, **given: object) -> str:
    sent = {"do": do, "key": uuid4()} | given
    return keeper.post(at("cut_tick", run.pk), sent, follow=True).content.decode()


def test_a_press_cuts_one_stick_and_says_what_to_write_on_the_drop(run, keeper, at) -> None:
    page = press(keeper, at, run, "one:0")
    assert "1 of 2 sticks, 2 of 4 pieces" in page
    assert "Write D1 and 71 3/4 in on the drop, and put it at Yard." in page
    assert "Cut all" not in page


def test_all_that_are_left_are_cut_by_one_press(run, keeper, at) -> None:
    page = press(keeper, at, run, "all:0")
    assert "2 of 2 sticks, 4 of 4 pieces" in page
    assert "all cut" in page
    assert CutTick.objects.get().sticks == 2


def test_the_answer_leads_back_to_the_pattern(run, keeper, at) -> None:
    answer = keeper.post(at("cut_tick", run.pk), {"do": "one:0", "key": uuid4()})
    assert answer["Location"] == f"{at('cut_list', run.pk)}#p1"


def test_a_double_press_counts_once(run, keeper, at) -> None:
    key = uuid4()
    press(keeper, at, run, "one:0", key=key)
    page = press(keeper, at, run, "one:0", key=key)
    assert "1 of 2 sticks" in page


def test_a_tick_is_taken_back(run, stock, keeper, at) -> None:
    press(keeper, at, run, "one:0")
    page = press(keeper, at, run, f"back:{CutTick.objects.get().pk}")
    assert "Taken back: 1 stick." in page
    assert "0 of 2 sticks" in page
    assert pieces_of(stock.tube) == [(feet(20), 2)]


def test_pieces_and_drops_go_where_they_are_told_and_that_is_kept(run, stock, keeper, at) -> None:
    rack = make_place(stock.shop, name="Drop rack")
    page = press(keeper, at, run, "one:0", drops=rack.pk)
    assert f'value="{rack.pk}" selected' in page
    assert stock.tube.balances.get(place=rack, quantity__gt=0).length_um == inches("71 3/4")


@pytest.mark.parametrize("do", ["one:9", "back:999999", "sing:1", "one", ""])
def test_a_press_that_cannot_be_changes_nothing(run, keeper, at, do) -> None:
    press(keeper, at, run, do)
    assert not CutTick.objects.exists()


def test_more_than_are_left_are_refused_in_words(run, keeper, at) -> None:
    press(keeper, at, run, "all:0")
    assert "All 2 sticks of this pattern are ticked already." in press(keeper, at, run, "one:0")


def other(keeper, at, run: CutListRun, **given: object):
    sent = {"length": "239 3/4", "good0": "1", "rest": "thrown", "reason": "short", "key": uuid4()}
    return keeper.post(f"{at('other_stick', run.pk)}?pattern=0", sent | given, follow=True)


def test_a_short_stick_is_told_and_the_rest_is_worked_out(run, stock, keeper, at) -> None:
    page = other(keeper, at, run).content.decode()
    assert "will not give 1 × Post" in page
    assert Entry.objects.latest("pk").reason.endswith("was 239 3/4 in: short")
    page = keeper.post(at("cut_rest", run.pk), follow=True).content.decode()
    assert "what was cut by it stands there" in page
    fresh = CutListRun.objects.get(replaces=run)
    assert [p["count"] for p in fresh.problem["pieces"]] == [3]
    assert "Go on with that list" in keeper.get(at("cut_list", run.pk)).content.decode()


def test_a_short_stick_without_a_reason_loses_nothing_typed(run, keeper, at) -> None:
    answer = other(keeper, at, run, reason="")
    assert answer.status_code == 422
    assert 'value="239 3/4"' in answer.content.decode()


def test_pieces_that_do_not_fit_are_refused_in_words(run, keeper, at) -> None:
    answer = other(keeper, at, run, length="100", good0="2")
    assert "These pieces do not fit 100 in." in answer.content.decode()


@pytest.mark.parametrize("pattern", ["", "7", "x"])
def test_a_pattern_that_is_not_there_is_not_found(run, keeper, at, pattern) -> None:
    assert keeper.get(f"{at('other_stick', run.pk)}?pattern={pattern}").status_code == 404


def test_a_rest_of_nothing_is_refused_in_words(run, keeper, at) -> None:
    press(keeper, at, run, "all:0")
    page = keeper.post(at("cut_rest", run.pk), follow=True).content.decode()
    assert "Every piece of this list is cut." in page


def test_a_reader_sees_how_far_it_is_and_ticks_nothing(run, reader, client_of, at) -> None:
    client = client_of(reader)
    page = client.get(at("cut_list", run.pk)).content.decode()
    assert "0 of 2 sticks" in page
    assert "Cut one" not in page
    assert client.post(at("cut_tick", run.pk), {"do": "one:0"}).status_code == 403


def test_the_page_takes_as_many_questions_with_many_ticks_as_with_one(
    run, keeper, at, django_assert_max_num_queries
) -> None:
    press(keeper, at, run, "one:0")
    with django_assert_max_num_queries(12):
        keeper.get(at("cut_list", run.pk))
    press(keeper, at, run, "one:0")
    with django_assert_max_num_queries(12):
        keeper.get(at("cut_list", run.pk))


def test_numbered_drops_are_found_on_the_page_of_the_metal(run, stock, keeper, at) -> None:
    press(keeper, at, run, "all:0")
    page = keeper.get(at("item", stock.tube.slug)).content.decode()
    assert "<strong>D1</strong> put at Yard" in page
    assert "2 × 71 3/4 in" in page


def test_the_lists_say_how_far_each_is(run, keeper, at) -> None:
    press(keeper, at, run, "one:0")
    assert "1 of 2 sticks cut" in keeper.get(at("cut_lists")).content.decode()
