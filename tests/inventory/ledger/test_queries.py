"""What lies where, what moved, and the check of balances against lines."""

from __future__ import annotations

from decimal import Decimal
from io import StringIO

import pytest
from django.core.management import CommandError, call_command
from django.db import connection

from inventory.ledger import actions, seal
from inventory.ledger.models import Balance
from inventory.ledger.queries import (
    balances_at,
    balances_of,
    below_level,
    check,
    entries_of_night,
    entry_of,
    made_by_night,
    movements,
    on_hand,
    on_hand_of,
    sources_of,
)
from inventory.materials.models import Item
from inventory.measures.lengths import feet
from inventory.places.models import Shop
from tests.factories import make_item
from tests.inventory.ledger.conftest import AT, Bench


def test_a_new_shop_has_nothing_on_hand(shop: Shop) -> None:
    assert on_hand(shop) == ()
    assert check(shop) == ()


def test_an_item_without_stock_is_listed_with_nothing(bench: Bench) -> None:
    assert [(row.item.name, row.good) for row in on_hand(bench.shop)] == [
        ("Bolts", 0),
        ("Head", 0),
        ("Tube", 0),
    ]


def test_metal_is_summed_by_length_and_end_to_end(bench: Bench) -> None:
    bench.bring(bench.tube, 2, length_um=feet(20))
    bench.bring(bench.tube, 1, length_um=feet(3))
    there = on_hand_of(bench.tube)
    assert [(part.length_um, part.good) for part in there.lengths] == [(feet(20), 2), (feet(3), 1)]
    assert there.metal_um == feet(43)


def test_the_other_shops_stock_does_not_show(bench: Bench, other_shop: Shop) -> None:
    bench.bring(bench.bolt, 1)
    make_item(other_shop, name="Theirs")
    assert [row.item.name for row in on_hand(other_shop)] == ["Theirs"]
    assert not movements(other_shop)


@pytest.mark.parametrize("items", [1, 30])
def test_on_hand_takes_two_queries_whatever_the_size(
    bench: Bench, items: int, django_assert_num_queries
) -> None:
    for _ in range(items):
        bench.bring(make_item(bench.shop), 1)
    with django_assert_num_queries(2):
        on_hand(bench.shop)


def test_balances_say_what_lies_in_a_place(bench: Bench) -> None:
    bench.bring(bench.bolt, 2)
    assert [row.item for row in balances_at(bench.shelf)] == [bench.bolt]
    assert [row.place for row in balances_of(bench.bolt)] == [bench.shelf]


def test_movements_come_last_written_first_and_by_item_or_place(bench: Bench) -> None:
    bench.bring(bench.bolt, 2)
    bench.make(1)
    everything = list(movements(bench.shop))
    assert [line.entry_id for line in everything] == sorted(
        (line.entry_id for line in everything), reverse=True
    )
    assert {line.item for line in movements(bench.shop, item=bench.head)} == {bench.head}
    assert {line.place for line in movements(bench.shop, place=bench.shelf)} == {bench.shelf}


def test_a_night_shows_what_was_written_for_it(bench: Bench) -> None:
    bench.bring(bench.bolt, 2)
    entry = bench.make(1)
    assert list(entries_of_night(bench.shop, "2026-01-14")) == [entry]
    assert {line.entry for line in movements(bench.shop, night_key="2026-01-14")} == {entry}


def test_a_balance_that_was_tampered_with_is_found(bench: Bench) -> None:
    bench.bring(bench.bolt, 2)
    Balance.objects.filter(item=bench.bolt).update(quantity=Decimal(5))
    (difference,) = check(bench.shop)
    assert str(difference) == "Bolts at Bolt shelf: balance 5.000, lines 2"


def test_a_balance_that_vanished_is_found(bench: Bench) -> None:
    bench.bring(bench.bolt, 2)
    Balance.objects.all().delete()
    (difference,) = check(bench.shop)
    assert difference.lines == 2


def test_check_ledger_says_that_the_book_is_right(bench: Bench) -> None:
    bench.bring(bench.bolt, 2)
    said = StringIO()
    call_command("check_ledger", stdout=said)
    assert said.getvalue() == "Teal Point: 1 entries, the book is right.\n"


def test_check_ledger_fails_on_a_wrong_balance(bench: Bench) -> None:
    bench.bring(bench.bolt, 2)
    Balance.objects.update(quantity=Decimal(5))
    said = StringIO()
    with pytest.raises(CommandError, match="1 things"):
        call_command("check_ledger", stdout=said)
    assert "Bolts at Bolt shelf" in said.getvalue()


def test_check_ledger_fails_on_a_broken_seal(shop: Shop) -> None:
    with seal.unsealed(connection), pytest.raises(CommandError, match="seal"):
        call_command("check_ledger", stdout=StringIO())


def test_only_the_asked_items_are_read_in_their_order(bench: Bench) -> None:
    rows = on_hand(bench.shop, [bench.head, bench.bolt])
    assert [row.item for row in rows] == [bench.head, bench.bolt]


def test_below_its_level_an_item_is_short_and_hold_does_not_help(bench: Bench) -> None:
    Item.objects.filter(pk=bench.bolt.pk).update(keep_at_least=3)
    bench.bring(bench.bolt, 3)
    assert not below_level(bench.shop)
    actions.hold(
        shop=bench.shop, item=bench.bolt, quantity=Decimal(1), place=bench.shelf,
        reason="rusty", by=None, at=AT,
    )  # fmt: skip
    assert list(below_level(bench.shop)) == [bench.bolt]


def test_what_was_made_is_told_by_night_without_what_was_taken_back(bench: Bench) -> None:
    bench.make(3)
    bench.make(1, night_key="2026-01-15")
    wrong = bench.make(9)
    actions.correct(wrong, reason="twice", by=None, at=AT)
    assert made_by_night(bench.shop, "rack") == {"2026-01-14": 3, "2026-01-15": 1}


def test_an_entry_of_another_shop_is_not_found(bench: Bench, other_shop: Shop) -> None:
    entry = bench.bring(bench.bolt, 1)
    assert entry_of(bench.shop, entry.pk) == entry
    assert entry_of(other_shop, entry.pk) is None


def test_sources_are_told_once_each(bench: Bench) -> None:
    for source in ("Reed & Sons", "Marsh Hardware", "Reed & Sons"):
        bench.bring(bench.bolt, 1, source=source)
    assert sources_of(bench.shop) == ["Marsh Hardware", "Reed & Sons"]
