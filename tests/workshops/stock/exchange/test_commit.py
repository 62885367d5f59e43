"""All of a list or nothing, by what was seen, once."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from django.utils import timezone

from inventory.ledger import actions as ledger
from inventory.ledger.models import Entry
from inventory.ledger.queries import balance_of
from inventory.materials.actions import edit_item
from inventory.materials.models import Item
from tests.workshops.stock.exchange.conftest import told
from workshops.common.models import Upload
from workshops.common.uploads import throw_away
from workshops.stock.exchange.commit import ListGone, ListRefused, commit
from workshops.stock.exchange.preview import preview_of

HEAD = ["Place", "Item", "On hand"]
ROWS = [HEAD, ["Shelf", "Rings", 5], ["Shelf", "Straw", 7]]


def press(upload: Upload, seen: str, by: Any) -> Any:
    return commit(upload, seen=seen, by=by, at=timezone.now())


def test_what_was_seen_is_written_and_the_file_is_gone(bring, stock, storekeeper) -> None:
    upload = bring("stock", ROWS)
    assert press(upload, preview_of(upload).plan.print, storekeeper).is_written
    assert (balance_of(stock.rings), balance_of(stock.straw)) == (5, 7)
    assert not Upload.objects.exists()


def test_when_the_book_moved_meanwhile_nothing_is_written(bring, stock, storekeeper) -> None:
    upload = bring("stock", ROWS)
    seen = preview_of(upload).plan.print
    stock.bring(stock.rings, 1)
    done = press(upload, seen, storekeeper)
    assert not done.is_written
    assert done.preview.plan.fates[0].says == "1 more than the book."
    assert balance_of(stock.straw) == 1
    assert press(upload, done.preview.plan.print, storekeeper).is_written


def test_when_an_item_changed_meanwhile_nothing_is_written(bring, stock, storekeeper) -> None:
    upload = bring("items", [["Name", "Supplier"], ["Rings", "Hill Farm"], ["Straw", "x"]])
    seen = preview_of(upload).plan.print
    edit_item(item=stock.rings, supplier="Marsh & Co")
    assert not press(upload, seen, storekeeper).is_written
    assert not Item.objects.filter(supplier="x").exists()


def test_a_row_that_cannot_be_keeps_the_whole_list_out(bring, stock, storekeeper) -> None:
    upload = bring("stock", [*ROWS, ["Shelf", "Bows", 1]])
    preview = preview_of(upload)
    assert told(preview) == [(2, "changed"), (3, "changed"), (4, "refused")]
    assert not press(upload, preview.plan.print, storekeeper).is_written
    assert balance_of(stock.rings) == 3


def test_when_the_book_refuses_the_last_row_the_first_is_not_written(
    bring, stock, storekeeper, monkeypatch
) -> None:
    def refuse(**given: Any) -> None:
        raise ledger.PostingRefused("The book is full.")

    upload = bring("stock", [HEAD, ["Rack", "Head", 2], ["Shelf", "Rings", 5]], **{"as": "opening"})
    seen, first = preview_of(upload).plan.print, ledger.goods_in
    calls = iter([first, refuse])
    monkeypatch.setattr(ledger, "goods_in", lambda **given: next(calls)(**given))
    with pytest.raises(ListRefused, match="The book is full"):
        press(upload, seen, storekeeper)
    assert balance_of(stock.head) == 0
    assert Upload.objects.exists()


def test_a_second_press_finds_the_list_gone(bring, stock, storekeeper) -> None:
    upload = bring("stock", ROWS)
    seen = preview_of(upload).plan.print
    press(upload, seen, storekeeper)
    with pytest.raises(ListGone, match="written or thrown away already"):
        press(upload, seen, storekeeper)
    assert Entry.objects.filter(kind=Entry.Kind.COUNTED).count() == 1


def test_a_list_thrown_away_meanwhile_is_not_written(bring, stock, storekeeper) -> None:
    upload = bring("stock", ROWS)
    seen = preview_of(upload).plan.print
    assert throw_away(upload)
    with pytest.raises(ListGone):
        press(upload, seen, storekeeper)
    assert balance_of(stock.rings) == Decimal(3)
