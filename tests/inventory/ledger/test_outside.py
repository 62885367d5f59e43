"""What is sent back, set out in the marsh and brought back; and when it all happened."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from decimal import Decimal
from uuid import uuid4

import pytest
from django.utils import timezone

from inventory.ledger import actions
from inventory.ledger.models import Condition, Entry, Line
from inventory.ledger.queries import balance_of, check, on_hand_of
from tests.inventory.ledger.conftest import AT, Bench

TWO = Decimal(2)


def sent_back(bench: Bench, **rest: object) -> Entry:
    usual = {"item": bench.bolt, "quantity": TWO, "place": bench.shelf, "reason": "wrong thread"}
    return actions.return_goods(shop=bench.shop, by=None, at=AT, **(usual | rest))


def test_goods_go_back_to_the_supplier_with_a_reason(bench: Bench) -> None:
    bench.bring(bench.bolt, 5)
    entry = sent_back(bench, paper="credit note 7", night_key="2026-01-14")
    assert (entry.kind, entry.reason, entry.paper) == ("returned", "wrong thread", "credit note 7")
    assert entry.lines.get(account=Line.Account.OUTSIDE).quantity == 2
    assert balance_of(bench.bolt) == 3
    assert check(bench.shop) == ()


def test_nothing_goes_back_without_a_reason_or_that_is_not_there(bench: Bench) -> None:
    bench.bring(bench.bolt, 1)
    with pytest.raises(actions.PostingRefused, match="give a reason"):
        sent_back(bench, reason=" ")
    with pytest.raises(actions.NotEnough):
        sent_back(bench)


def test_heads_are_set_out_and_some_come_back_on_hold(bench: Bench) -> None:
    bench.bring(bench.head, 10)
    usual = {"shop": bench.shop, "item": bench.head, "place": bench.head.home, "by": None, "at": AT}
    out = actions.set_out(quantity=Decimal(8), paper="load-out Mallow Creek", **usual)
    back = actions.bring_back(
        quantity=TWO, condition=Condition.HOLD, reason="crushed on the truck", **usual
    )
    assert (out.kind, back.kind) == (Entry.Kind.SET_OUT, Entry.Kind.RETURNED)
    there = on_hand_of(bench.head)
    assert (there.good, there.hold) == (2, 2)
    assert check(bench.shop) == ()


def test_every_action_notes_its_night_and_paper(bench: Bench) -> None:
    bench.bring(bench.bolt, 9, night_key="2026-01-14", paper="note 1")
    usual = {"shop": bench.shop, "item": bench.bolt, "quantity": TWO, "by": None, "at": AT}
    told = {"night_key": "2026-01-14", "paper": "sheet 3"}
    actions.move(source=bench.shelf, target=bench.rack, **usual, **told)
    for act in (actions.hold, actions.release, actions.scrap):
        act(place=bench.shelf, reason="looked at", **usual, **told)
    counted = [actions.Counted(bench.bolt, 0, "good", Decimal(1))]
    actions.count(shop=bench.shop, place=bench.shelf, counted=counted, by=None, at=AT, **told)
    assert set(Entry.objects.values_list("night_key", flat=True)) == {"2026-01-14"}
    assert Entry.objects.filter(paper="sheet 3").count() == 5


def test_what_is_still_to_come_is_refused_in_the_shops_own_time(bench: Bench, clock) -> None:
    with pytest.raises(actions.PostingRefused, match="2026-01-15 18:00 is still to come"):
        bench.bring(bench.bolt, 1, at=timezone.now() + timedelta(days=1))


def test_a_clock_a_few_minutes_ahead_is_let_pass(bench: Bench, clock) -> None:
    bench.bring(bench.bolt, 1, at=timezone.now() + timedelta(minutes=5))
    assert balance_of(bench.bolt) == 1


def test_a_tally_is_not_lost_for_a_wrong_clock(bench: Bench, clock) -> None:
    entry = bench.make(1, at=timezone.now() + timedelta(days=1))
    actions.correct(entry, reason="wrong day", by=None, at=entry.at)
    assert Entry.objects.count() == 2


def test_what_is_typed_in_next_day_keeps_both_times(bench: Bench, clock) -> None:
    entry = bench.bring(bench.bolt, 1, at=datetime(2026, 1, 13, 19, 0, tzinfo=UTC))
    entry.refresh_from_db()
    assert entry.at == datetime(2026, 1, 13, 19, 0, tzinfo=UTC)
    assert entry.recorded_at == timezone.now()
    assert entry.is_typed_in_later
    assert not bench.bring(bench.bolt, 1, at=timezone.now()).is_typed_in_later


def test_a_history_that_is_loaded_was_written_as_it_happened(bench: Bench, clock) -> None:
    with actions.written_as_it_happened():
        loaded = bench.bring(bench.bolt, 1)
    assert loaded.recorded_at == AT
    assert bench.bring(bench.bolt, 1).recorded_at == timezone.now()


def moved(bench: Bench, quantity: int, **rest: object) -> actions.Posting:
    lines = [
        actions.NewLine(bench.bolt, Line.Account.SHELF, Decimal(quantity), bench.shelf),
        actions.NewLine(bench.bolt, Line.Account.OUTSIDE, Decimal(-quantity)),
    ]
    return actions.Posting(kind=Entry.Kind.USED, lines=lines, at=AT, **rest)


def test_many_are_posted_in_one_go_each_with_its_key(bench: Bench) -> None:
    postings = [moved(bench, 3, client_key=uuid4()), moved(bench, -1), moved(bench, 2)]
    first = actions.post_many(shop=bench.shop, postings=postings, by=None)
    again = actions.post_many(shop=bench.shop, postings=postings[:1], by=None)
    assert [entry.pk for entry in again] == [first[0].pk]
    assert balance_of(bench.bolt) == 4
    assert check(bench.shop) == ()


def test_one_that_is_refused_takes_all_with_it_and_says_which(bench: Bench) -> None:
    postings = [moved(bench, 3), moved(bench, -5)]
    with pytest.raises(actions.NotEnough) as refused:
        actions.post_many(shop=bench.shop, postings=postings, by=None)
    assert refused.value.number == 1
    assert not Entry.objects.exists()


def test_an_entry_knows_itself_as_the_database_does(bench: Bench) -> None:
    entry = bench.bring(bench.bolt, "0.125", paper="bill", at=AT)
    kept = Entry.objects.get(pk=entry.pk)
    for field in Entry._meta.concrete_fields:
        assert getattr(kept, field.attname) == getattr(entry, field.attname), field.name
    assert sorted(kept.lines.values_list("quantity", flat=True)) == [
        Decimal("-0.125"), Decimal("0.125"),
    ]  # fmt: skip


def test_an_entry_of_more_lines_than_one_statement_takes_is_written(bench: Bench) -> None:
    lines = []
    for n in range(1, 1203):
        lines.append(actions.NewLine(bench.tube, "shelf", Decimal(1), bench.rack, length_um=n))
        lines.append(actions.NewLine(bench.tube, "outside", Decimal(-1), length_um=n))
    entry = actions.post(shop=bench.shop, kind="goods_in", lines=lines, by=None, at=AT)
    assert entry.lines.count() == 2404
    assert balance_of(bench.tube) == 1202
