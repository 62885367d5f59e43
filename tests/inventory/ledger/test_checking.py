"""Whatever is wrong in the book is found and told with what to do about it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from decimal import Decimal
from io import StringIO
from uuid import uuid4

import pytest
from django.core.management import CommandError, call_command
from django.db import connection

from inventory.ledger import actions, seal
from inventory.ledger.checking import faults
from inventory.ledger.mending import mend
from inventory.ledger.models import Balance, Entry, Line
from inventory.ledger.queries import check
from inventory.places.models import Shop
from tests.factories import make_item, make_place
from tests.inventory.ledger.conftest import AT, Bench


def told(bench: Bench) -> list[str]:
    """What is wrong, in words."""
    return [str(fault) for fault in faults(bench.shop)]


def slip_in(bench: Bench, *lines: tuple[object, ...]) -> Entry:
    """An entry that no action wrote, as a repair by hand could leave one."""
    entry = Entry.objects.create(shop=bench.shop, kind=Entry.Kind.USED, at=AT)
    for item, account, quantity, place in lines:
        Line.objects.create(
            entry=entry, item=item, account=account, quantity=Decimal(quantity), place=place
        )
    return entry


def test_a_book_that_was_only_posted_to_is_right(bench: Bench) -> None:
    bench.bring(bench.bolt, 2)
    bench.make(1)
    assert told(bench) == []


def test_a_wrong_balance_is_told_with_the_way_to_mend_it(bench: Bench) -> None:
    bench.bring(bench.bolt, 2)
    Balance.objects.update(quantity=Decimal(5))
    (fault,) = told(bench)
    assert fault.startswith("Bolts at Bolt shelf: balance 5.000, lines 2.")
    assert "check_ledger --mend" in fault


def test_an_entry_that_is_out_is_told_with_its_item(bench: Bench) -> None:
    entry = slip_in(bench, (bench.bolt, "used", "2", None), (bench.bolt, "made", "-1.5", None))
    (fault,) = told(bench)
    assert f"Entry {entry.pk}: the lines of Bolts are out by 0.5." in fault


def test_two_short_sticks_do_not_balance_a_long_one(bench: Bench) -> None:
    entry = Entry.objects.create(shop=bench.shop, kind=Entry.Kind.USED, at=AT)
    for length_um, quantity in ((1_000, 2), (2_000, -1)):
        Line.objects.create(
            entry=entry, item=bench.tube, account="used", quantity=quantity, length_um=length_um
        )
    assert len(told(bench)) == 2


def test_an_item_of_another_shop_is_told(bench: Bench, other_shop: Shop) -> None:
    strange = make_item(other_shop, name="Their bolts")
    slip_in(bench, (strange, "used", "1", None), (strange, "made", "-1", None))
    assert all("Their bolts" in fault for fault in told(bench))
    assert len(told(bench)) == 2


def test_a_place_of_another_shop_is_told(bench: Bench, other_shop: Shop) -> None:
    there = make_place(other_shop, name="Their rack")
    slip_in(bench, (bench.bolt, "shelf", "1", there), (bench.bolt, "made", "-1", None))
    assert any("at Their rack" in fault for fault in told(bench))


def test_an_entry_without_lines_is_told(bench: Bench) -> None:
    entry = slip_in(bench)
    (fault,) = told(bench)
    assert fault.startswith(f"Entry {entry.pk} (used 2026-01-14 19:00) has no lines.")


@contextmanager
def without_the_rule_about_keys() -> Iterator[None]:
    """The database with the rule lost, and everything as it was afterwards."""
    (rule,) = (each for each in Entry._meta.constraints if each.name == "entry_key_once_a_shop")
    # SQLite makes the table anew from what the model says.
    Entry._meta.constraints.remove(rule)
    with connection.schema_editor() as schema:
        schema.remove_constraint(Entry, rule)
    try:
        yield
    finally:
        seal.open_up(connection)
        Line.objects.all()._raw_delete("default")
        Entry.objects.all()._raw_delete("default")
        Entry._meta.constraints.insert(0, rule)
        with connection.schema_editor() as schema:
            schema.add_constraint(Entry, rule)
        seal.close(connection)


@pytest.mark.django_db(transaction=True)
def test_a_key_posted_twice_is_told(bench: Bench) -> None:
    key = uuid4()
    with without_the_rule_about_keys():
        for _ in range(2):
            entry = Entry.objects.create(shop=bench.shop, kind="used", at=AT, client_key=key)
            Line.objects.create(entry=entry, item=bench.bolt, account="used", quantity=1)
            Line.objects.create(entry=entry, item=bench.bolt, account="made", quantity=-1)
        assert any(f"{key} was posted 2 times" in fault for fault in told(bench))


def test_mending_writes_balances_from_their_lines(bench: Bench) -> None:
    bench.bring(bench.bolt, 2)
    bench.bring(bench.head, 3)
    Balance.objects.filter(item=bench.bolt).update(quantity=Decimal(5))
    Balance.objects.filter(item=bench.head).delete()
    assert mend(bench.shop) == 2
    assert check(bench.shop) == ()


def test_lines_that_take_too_many_are_not_mended_away(bench: Bench) -> None:
    slip_in(bench, (bench.bolt, "shelf", "-1", bench.shelf), (bench.bolt, "used", "1", None))
    assert mend(bench.shop) == 0
    assert "count the place" in told(bench)[0]


def test_the_command_ends_with_one_until_it_is_mended(bench: Bench) -> None:
    bench.bring(bench.bolt, 2)
    Balance.objects.update(quantity=Decimal(5))
    with pytest.raises(CommandError, match="1 things are wrong"):
        call_command("check_ledger", stdout=StringIO())
    said = StringIO()
    call_command("check_ledger", mend=True, stdout=said)
    assert said.getvalue() == (
        "Teal Point: 1 balances written anew.\nTeal Point: 1 entries, the book is right.\n"
    )


def test_a_broken_seal_is_closed_again_by_its_command(db: None) -> None:
    with connection.cursor() as cursor:
        cursor.execute(
            "DROP TRIGGER ledger_line_no_update"
            + (" ON ledger_line" if connection.vendor == "postgresql" else "")
        )
    assert not seal.is_closed(connection)
    call_command("seal_ledger", stdout=StringIO())
    assert seal.is_closed(connection)


def test_more_than_the_book_can_count_is_refused(bench: Bench) -> None:
    with pytest.raises(actions.PostingRefused, match="more than the book can count"):
        bench.bring(bench.bolt, 10**11)
