"""From what stops us first to the order, its paper, half a delivery and what is still to come."""

from __future__ import annotations

from datetime import date
from io import BytesIO

import pytest
from django.test import Client
from pypdf import PdfReader

from inventory.deliveries.models import Order
from inventory.ledger.queries import balance_of
from inventory.measures.lengths import feet
from tests.factories import make_night
from tests.inventory.winter import Stock, make_stock
from workshops.common.jobs import run_now
from workshops.common.models import Job
from workshops.paper.models import Paper

HOME = "/teal-point/stock"


@pytest.fixture
def stock(shop, clock) -> Stock:
    stock = make_stock(shop)
    stock.bring(stock.tube, 2, feet(20))
    stock.bring(stock.straw, 3)
    stock.bring(stock.rings, 3)
    for day in (21, 28):
        make_night(shop, date=date(2026, 1, day))
    return stock


@pytest.fixture
def browser(storekeeper, client_of) -> Client:
    return client_of(storekeeper)


def seen(browser: Client, page: str) -> str:
    return " ".join(browser.get(f"{HOME}/{page}").content.decode().split())


def sent(browser: Client, page: str, **given: object) -> str:
    answer = browser.post(f"{HOME}/{page}", given, follow=True)
    return " ".join(answer.content.decode().split())


def work_out(browser: Client, stock: Stock) -> str:
    sets = {f"sets{stock.complete.pk}": 10}
    return sent(browser, "needs/work-out/", pace="rate", a_night=2, scrap=0, **sets)


def write_and_send(browser: Client, stock: Stock) -> Order:
    """The buy list's order, ten sticks instead of five, sent for the 27th."""
    sent(browser, "orders/begin/", supplier="Reed & Sons")
    order = Order.objects.get()
    line = order.lines.get()
    boxes = {f"q{line.pk}": 10, f"p{line.pk}": "29.50", "deliver_to": "The yard"}
    assert "295.00 USD" in sent(browser, f"orders/{order.pk}/write/", **boxes)
    steps = {"on": "2026-01-14", "expected_on": "2026-01-27"}
    assert "is sent" in sent(browser, f"orders/{order.pk}/send/", **steps)
    return order


def test_the_page_says_what_stops_us_and_the_order_is_made_from_it(stock, browser) -> None:
    page = work_out(browser, stock)
    assert "on Wednesday 28 January" in page
    assert "order by <strong>Wed 21 Jan</strong>" in page
    write_and_send(browser, stock)
    assert "Tuesday 27 January" in seen(browser, "orders/coming/")
    page = work_out(browser, stock)
    assert "<h3>Reed &amp; Sons</h3>" not in page
    assert "What is on order comes in time" in page


def test_the_order_is_printed(stock, browser) -> None:
    work_out(browser, stock)
    order = write_and_send(browser, stock)
    browser.post("/teal-point/paper/order/", {"order": order.pk})
    assert run_now(Job.objects.get()).state == Job.State.DONE
    paper = Paper.objects.get(kind=Paper.Kind.ORDER)
    file = browser.get(f"/teal-point/paper/{paper.pk}/")
    text = PdfReader(BytesIO(b"".join(file.streaming_content))).pages[0].extract_text()
    assert "Order 1" in text
    assert "10 sticks" in text
    assert "295.00" in text


def test_half_of_it_comes_and_the_rest_is_still_expected(stock, browser) -> None:
    work_out(browser, stock)
    order = write_and_send(browser, stock)
    receive(browser, order, sticks=4)
    assert balance_of(stock.tube) == 6
    page = seen(browser, f"orders/{order.pk}/")
    assert '<td class="wb-number">10</td> <td class="wb-number">4</td>' in page
    assert '<td class="wb-number"><strong>6</strong></td>' in page
    assert "4 of 10 came" in seen(browser, "orders/coming/")
    receive(browser, order, sticks=6)
    assert "All of it came" in seen(browser, f"orders/{order.pk}/")
    assert "Closed." in sent(browser, f"orders/{order.pk}/end/", why="")
    assert "Nothing is on its way" in seen(browser, "orders/coming/")


def test_what_a_set_costs_follows_from_what_was_paid(stock, browser) -> None:
    page = seen(browser, "set-costs/")
    assert "at least" in page
    assert "listed, never bought" in page


def receive(browser: Client, order: Order, *, sticks: int) -> None:
    """Open goods-in for the order as its button does, say how many came, and book them in."""
    page = browser.get(f"{HOME}/goods-in/?order={order.pk}")
    head, rows = page.context["head"], page.context["rows"]
    given = {name: head[name].value() or "" for name in head.fields}
    given |= {"came": "bought", "rows": len(rows), "no_letter": ""}
    for row in rows:
        given |= {row.add_prefix(name): row[name].value() or "" for name in row.fields}
    given[rows[0].add_prefix("quantity")] = sticks
    answer = browser.post(f"{HOME}/goods-in/", given)
    assert answer.status_code == 302, answer.content.decode()
