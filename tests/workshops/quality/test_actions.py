"""A check, what a bad one holds back, and what becomes of it."""

from __future__ import annotations

from datetime import timedelta
from uuid import uuid4

import pytest
from django.db import IntegrityError, connection, transaction

from inventory.ledger.models import Entry
from inventory.ledger.queries import check as book_differences
from tests.factories import make_night, make_operation, make_station
from workshops.nights import actions as nights
from workshops.nights.models import Night
from workshops.quality.actions import CheckRefused, hold_further
from workshops.quality.models import Check, Held
from workshops.quality.sorting import standing_of

pytestmark = pytest.mark.django_db


def test_a_good_check_holds_nothing(bench) -> None:
    bench.count(5, "19:00")
    row = bench.check(True, "19:05")
    assert (row.since_last, Held.objects.count()) == (5, 0)
    assert bench.there(bench.scene.stock.post) == (5, 0)


def test_a_bad_check_holds_what_was_made_since_the_last_good_one(bench) -> None:
    bench.count(30, "18:50")
    good = bench.check(True, "18:55")
    bench.count(20, "19:10")
    bench.count(10, "19:30")
    held = bench.check(False, "19:35").held.get()
    assert (held.suspected, held.held, held.gone, held.back_to) == (30, 30, [], good)
    assert bench.there(bench.scene.stock.post) == (30, 30)


def test_the_book_says_why_they_are_on_hold(bench) -> None:
    bench.count(3, "18:50")
    bench.check(False, "18:55")
    entry = Entry.objects.get(kind=Entry.Kind.HOLD)
    assert entry.reason == "every nth piece failed: hole 1/4 in off (Ada R.)"
    assert entry.night_key == "2026-01-14"


def test_what_was_used_since_is_named_and_the_rest_is_held(bench) -> None:
    bench.check(True, "18:40")
    bench.count(20, "19:00")
    bench.count(12, "19:10", "tag")  # twelve sets, a post in each
    held = bench.check(False, "19:20").held.get()
    assert (held.suspected, held.held) == (20, 8)
    assert held.gone == [
        {"where": "in Set", "pieces": 12, "count": 12, "item": bench.scene.stock.complete.pk}
    ]


def test_the_sets_with_bad_posts_in_them_are_held_on_asking(bench) -> None:
    bench.check(True, "18:40")
    bench.count(20, "19:00")
    bench.count(12, "19:10", "tag")
    held = bench.check(False, "19:20").held.get()
    key = uuid4()
    for _ in range(2):
        more = hold_further(
            held=held, item=bench.scene.stock.complete, by=None, at=bench.scene.at("19:25"),
            client_key=key,
        )  # fmt: skip
    assert (more.held, more.because_of, held.further.count()) == (12, held, 1)
    assert bench.there(bench.scene.stock.complete) == (0, 12)
    with pytest.raises(CheckRefused, match="held back already"):
        hold_further(held=held, item=more.item, by=None, at=bench.scene.at("19:26"))


def test_nothing_further_is_held_where_none_went(bench) -> None:
    bench.count(5, "19:00")
    held = bench.check(False, "19:20").held.get()
    with pytest.raises(CheckRefused, match="None of them went into Head"):
        hold_further(held=held, item=bench.scene.stock.head, by=None, at=bench.scene.at("19:25"))


def test_a_second_bad_check_holds_only_what_came_after_the_first(bench) -> None:
    bench.count(10, "19:00")
    bench.check(False, "19:05")
    bench.count(4, "19:10")
    held = bench.check(False, "19:15").held.get()
    assert (held.suspected, held.held, held.gone) == (4, 4, [])
    assert bench.there(bench.scene.stock.post) == (0, 14)


def test_without_any_check_before_tonights_pieces_alone_are_held(bench) -> None:
    before = make_night(bench.scene.shop, date=bench.scene.night.date - timedelta(days=7))
    nights.tally(
        night=before, operation=bench.operation("drill"), good=40, by=None,
        at=bench.scene.at("19:00") - timedelta(days=7),
    )  # fmt: skip
    bench.count(6, "19:00")
    assert bench.check(False, "19:10").held.get().held == 6


def test_a_count_that_was_taken_back_is_not_held(bench) -> None:
    bench.count(6, "19:00")
    nights.undo_tally(tally=bench.count(50, "19:02"), at=bench.scene.at("19:03"), by=None)
    assert bench.check(False, "19:10").held.get().suspected == 6


def test_sent_again_with_its_key_it_is_one_check(bench) -> None:
    bench.count(6, "19:00")
    key = uuid4()
    assert bench.check(False, "19:10", client_key=key) == bench.check(
        False, "19:11", client_key=key
    )
    assert bench.there(bench.scene.stock.post) == (0, 6)


def test_a_break_test_goes_back_to_the_last_good_break_and_loses_its_sample(bench) -> None:
    head = bench.scene.stock.head
    bench.count(10, "18:50", "weld")
    broken = {"kind": Check.Kind.BREAK, "from_rack": 1}
    bench.check(True, "18:55", "weld", **broken)
    bench.count(15, "19:20", "weld")
    bench.check(True, "19:25", "weld")  # it looks well
    bench.count(5, "19:30", "weld")
    held = bench.check(False, "19:40", "weld", words="cold lap", **broken).held.get()
    assert (held.suspected, held.held) == (20, 19)  # and one lies broken in the vise
    assert bench.there(head) == (9, 19)


def test_the_broken_sample_is_of_the_batch_and_named(bench) -> None:
    bench.count(3, "19:00", "weld")
    check = bench.check(False, "19:05", "weld", kind=Check.Kind.BREAK, from_rack=1)
    held = check.held.get()
    assert (held.suspected, held.held) == (3, 2)
    assert held.gone == [{"where": "broken in the test", "pieces": 1, "count": 0, "item": None}]


def test_a_mistaken_bad_check_is_put_right_and_lets_go_what_it_held(bench) -> None:
    bench.count(6, "19:00")
    wrong = bench.check(False, "19:10")
    right = bench.check(True, "19:12", corrects=wrong)
    assert (right.corrects, right.since_last) == (wrong, 6)
    assert bench.there(bench.scene.stock.post) == (6, 0)
    assert standing_of(wrong.held.get()).is_done


def test_a_mistaken_good_check_becomes_a_bad_one_that_holds(bench) -> None:
    bench.count(6, "19:00")
    wrong = bench.check(True, "19:10")
    bench.count(2, "19:20")
    assert bench.check(False, "19:22", corrects=wrong).held.get().held == 8


def test_only_the_last_unsorted_check_is_put_right(bench) -> None:
    bench.count(6, "19:00")
    first = bench.check(False, "19:10")
    bench.sort(first.held.get(), good=1)
    with pytest.raises(CheckRefused, match="sorted already"):
        bench.check(True, "19:12", corrects=first)
    bench.check(True, "19:20")
    with pytest.raises(CheckRefused, match="Only the last"):
        bench.check(True, "19:22", corrects=first)


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"checked_by": " "}, "who looked"),
        ({"is_good": False, "words": ""}, "What is wrong"),
        ({"how": Check.How.MEASURED}, "tape"),
        ({"value_um": 5}, "tape"),
        ({"from_rack": 2}, "no more are broken"),
    ],
)
def test_half_a_check_is_refused(bench, fields, says) -> None:
    given = {"is_good": True} | fields
    with pytest.raises(CheckRefused, match=says):
        bench.check(given.pop("is_good"), "19:00", **given)


def test_another_shops_operation_and_a_cancelled_night_are_refused(bench, other_shop) -> None:
    make_operation(make_station(other_shop), slug="theirs")
    with pytest.raises(CheckRefused):
        bench.check(True, "19:00", "theirs")
    Night.objects.update(status=Night.Status.CANCELLED)
    bench.scene.night.refresh_from_db()
    with pytest.raises(CheckRefused):
        bench.check(True, "19:00")


def test_the_database_refuses_to_change_what_was_found(bench) -> None:
    bench.check(True, "19:00")
    for statement in ("UPDATE quality_check SET is_good = 0", "DELETE FROM quality_check"):
        with (
            pytest.raises(IntegrityError, match="append-only"),
            transaction.atomic(),
            connection.cursor() as cursor,
        ):
            cursor.execute(statement)


def test_the_book_agrees_after_all_of_it(bench) -> None:
    bench.count(20, "19:00")
    held = bench.check(False, "19:10").held.get()
    bench.sort(held, good=5, rework=10, scrap=5)
    assert not list(book_differences(bench.scene.shop))
