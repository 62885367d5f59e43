"""The count is off by forty: counted twice by two people while work goes on, found, written."""

from __future__ import annotations

import re
from datetime import timedelta
from decimal import Decimal

import pytest
from django.test import Client
from django.utils import timezone

from inventory.ledger import actions as ledger
from inventory.ledger.queries import balance_of, check
from inventory.stocktake.models import CountSheet
from tests.factories import make_night
from tests.inventory.winter import Stock, make_stock
from workshops.common.jobs import run_now
from workshops.common.models import Job

pytestmark = pytest.mark.django_db

STOCK = "/teal-point/stock"


@pytest.fixture
def stock(shop, clock) -> Stock:
    """A hundred heads by the book, forty of them from a tally that was written twice."""
    stock = make_stock(shop)
    stock.bring(stock.tube, 60, 20 * 12 * 25_400)
    for heads, hours in ((20, 60), (40, 30), (40, 29)):
        ledger.make(
            shop=shop, recipe=stock.head.recipes.get(), good=heads, by=None,
            at=timezone.now() - timedelta(hours=hours), night_key="2026-01-13",
        )  # fmt: skip
    make_night(shop)
    return stock


@pytest.fixture
def two(storekeeper, duty_lead, client_of) -> tuple[Client, Client]:
    """The storekeeper's browser and the duty lead's."""
    return client_of(storekeeper), client_of(duty_lead)


def begin(browser: Client, stock: Stock) -> CountSheet:
    """A stocktake of the rack."""
    given = {"name": "Midwinter", "places": [stock.head.home_id], "note": "the trailer is empty"}
    browser.post(f"{STOCK}/stocktakes/new/", given)
    return CountSheet.objects.get()


def boxes(sheet: CountSheet, **counts: int | str) -> dict[str, object]:
    """What a counter writes into the boxes, by name of item."""
    rows = {line.item.name: line.pk for line in sheet.lines.select_related("item")}
    return {f"n{rows[name]}": count for name, count in counts.items()}


def counted(browser: Client, sheet: CountSheet, turn: str, who: str, **counts: int) -> str:
    given = boxes(sheet, **counts) | {"counter": who, "done": "1"}
    answer = browser.post(f"{STOCK}/count-sheets/{sheet.pk}/{turn}/", given, follow=True)
    return answer.content.decode()


def page(browser: Client, path: str) -> str:
    return browser.get(f"{STOCK}/{path}").content.decode()


def test_the_cut_off_is_shown_before_anything_is_counted(stock, two) -> None:
    shown = page(two[0], "stocktakes/new/")
    assert "The night of Wednesday 14 January has no tally." in shown
    assert "Is a truck or a trailer loaded?" in shown


def test_off_by_forty_is_found_explained_and_written_while_work_goes_on(stock, two, clock) -> None:
    keeper, lead = two
    sheet = begin(keeper, stock)
    counted(keeper, sheet, "first", "Signe", Head=60)
    clock.shift(600)
    ledger.scrap(
        shop=stock.shop, item=stock.head, quantity=Decimal(3), place=stock.head.home,
        reason="cold-lapped", by=None, at=timezone.now(),
    )  # fmt: skip
    clock.shift(600)
    shown = counted(lead, sheet, "second", "Dov", Head=57)
    assert "Both counts are in." in shown
    assert "97" not in shown
    keeper.post(f"{STOCK}/count-sheets/{sheet.pk}/open-book/")
    shown = page(keeper, f"count-sheets/{sheet.pk}/")
    assert "the book had 97" in shown
    line = sheet.lines.get(item=stock.head)
    clues = page(keeper, f"count-lines/{line.pk}/")
    assert "Why is the count of Head off by -40?" in clues
    assert clues.count("as much, the other way: was it real?") == 2
    given = {f"r{line.pk}": "twice", f"w{line.pk}": "Tuesday’s heads", "post": "1"}
    given_done = keeper.post(f"{STOCK}/count-sheets/{sheet.pk}/", given, follow=True)
    assert "Rack is posted. 1 difference is in the book." in given_done.content.decode()
    assert balance_of(stock.head) == 57
    assert check(stock.shop) == ()
    result = page(keeper, f"stocktakes/{sheet.stocktake_id}/")
    assert "Tallied or written twice" in result
    assert "Tuesday’s heads" in result
    assert "-40" in result


def test_a_tally_typed_in_after_the_posting_is_shown_and_put_right(stock, two, clock) -> None:
    keeper, lead = two
    sheet = begin(keeper, stock)
    counted(keeper, sheet, "first", "Signe", Head=95)
    clock.shift(60)
    counted(lead, sheet, "second", "Dov", Head=95)
    keeper.post(f"{STOCK}/count-sheets/{sheet.pk}/open-book/")
    line = sheet.lines.get(item=stock.head)
    keeper.post(f"{STOCK}/count-sheets/{sheet.pk}/", {f"r{line.pk}": "unexplained", "post": "1"})
    ledger.scrap(
        shop=stock.shop, item=stock.head, quantity=Decimal(5), place=stock.head.home,
        reason="typed in next day", by=None, at=timezone.now() - timedelta(hours=20),
    )  # fmt: skip
    assert balance_of(stock.head) == 90
    assert "Typed in late" in page(keeper, f"stocktakes/{sheet.stocktake_id}/")
    keeper.post(f"{STOCK}/stocktakes/{sheet.stocktake_id}/late/")
    assert balance_of(stock.head) == 95
    assert "Typed in late" not in page(keeper, f"stocktakes/{sheet.stocktake_id}/")


def test_the_second_counter_sees_neither_the_first_count_nor_the_book(stock, two) -> None:
    keeper, lead = two
    sheet = begin(keeper, stock)
    counted(keeper, sheet, "first", "Signe", Head=61)
    for browser, path in ((lead, "second/"), (lead, ""), (keeper, "")):
        shown = page(browser, f"count-sheets/{sheet.pk}/{path}")
        assert "Head" in shown or path == ""
        assert re.findall(r"\b(61|100)\b", re.sub(r"<(script|head).*?</\1>", "", shown)) == []


def test_two_counts_that_differ_lead_to_a_third_look_at_those_lines_alone(stock, two) -> None:
    keeper, lead = two
    sheet = begin(keeper, stock)
    counted(keeper, sheet, "first", "Signe", Head=60, Post=0)
    shown = counted(lead, sheet, "second", "Dov", Head=59, Post=0)
    assert "1 line to look at once more" in shown
    third = page(keeper, f"count-sheets/{sheet.pk}/third/")
    assert "Head" in third
    assert "Post, counted" not in third
    assert 'value="60"' not in third
    shown = counted(keeper, sheet, "third", "Signe and Dov", Head=60)
    assert "third decided" in shown


def test_the_sheets_are_printed_first_and_second_apart(stock, two) -> None:
    keeper = two[0]
    sheet = begin(keeper, stock)
    keeper.post("/teal-point/paper/count-sheets/", {"stocktake": sheet.stocktake_id})
    job = run_now(Job.objects.get())
    assert job.result["says"].startswith("The count sheets are ready")


def test_a_shop_without_places_is_told_to_name_one(shop, two) -> None:
    assert "no place to count yet" in page(two[0], "stocktakes/new/")
    assert "Nothing was counted twice yet" in page(two[0], "stocktakes/")
