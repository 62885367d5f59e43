"""Purchase orders on paper: what the supplier reads."""

from __future__ import annotations

from datetime import UTC, date, datetime
from decimal import Decimal

import pytest

from inventory.deliveries import ordering
from inventory.deliveries.models import Order
from inventory.deliveries.ordering import Asked
from inventory.measures.lengths import Units, feet, inches
from tests.factories import make_item
from tests.inventory.deliveries.orders import AT, make_order
from tests.inventory.winter import Stock, make_stock
from tests.workshops.paper.reading import pages_of, squeezed
from workshops.club.models import Club
from workshops.paper.actions import make_order as keep_order
from workshops.paper.models import Paper
from workshops.paper.orders import as_sold, fine, packs_of, print_order
from workshops.paper.refusals import PaperRefused

NOW = datetime(2026, 1, 14, 20, 0, tzinfo=UTC)


@pytest.fixture
def stock(shop) -> Stock:
    return make_stock(shop)


@pytest.fixture
def order(stock: Stock) -> Order:
    Club.objects.create(shop=stock.shop, name="Teal Marsh Club", contact="Signe, 555-0107")
    order = make_order(stock)
    return ordering.describe(
        order=order, wanted_on=date(2026, 1, 28), deliver_to="The old ice house, side gate",
        note="Ring before you unload.", by=None,
    )  # fmt: skip


def said(order: Order) -> str:
    return "".join(pages_of(print_order(order, NOW).data))


def says(text: str, *words: str) -> bool:
    return all(squeezed(each) in text for each in words)


def test_it_says_club_number_supplier_where_to_and_by_when(order) -> None:
    assert says(
        said(order),
        "Teal Marsh Club", "Signe, 555-0107", "Order 1", "Reed & Sons", "Draft, not sent.",
        "Wednesday 28 January 2026", "The old ice house, side gate", "Ring before you unload.",
        "page 1 of 1",
    )  # fmt: skip


def test_a_line_says_size_count_packs_and_price(order) -> None:
    text = said(order)
    assert says(text, "square tube, 2 in outside, 0.118 in wall, 20 ft long", "10 sticks")
    assert says(text, "2 packs of 5", "30.00", "300.00", "3 bales")


def test_the_sum_is_at_least_where_a_price_is_not_known(order, stock) -> None:
    assert says(said(order), "At least 300.00 USD; for 1 line we know no price")
    asked = Asked(stock.straw, Decimal(3), unit_price=Decimal("4.50"))
    ordering.put_line(order=order, asked=asked, by=None)
    assert says(said(order), "Together 313.50 USD")


def test_a_sent_order_is_dated_and_signed_by_who_sent_it(order, storekeeper) -> None:
    ordering.send(order=order, on=date(2026, 1, 15), by=storekeeper)
    text = said(Order.objects.select_related("shop").get(pk=order.pk))
    assert says(text, "15 January 2026", "by Signe")
    assert not says(text, "Draft")


@pytest.mark.parametrize("paper_size", ["letter", "a4"])
def test_many_lines_run_over_pages_with_their_head(order, stock, paper_size) -> None:
    order.shop.paper_size = paper_size
    for n in range(60):
        item = make_item(stock.shop, kind="small", name=f"Thing {n}")
        ordering.put_line(order=order, asked=Asked(item, Decimal(n + 1)), by=None)
    pdf = print_order(order, NOW)
    pages = pages_of(pdf.data)
    assert pdf.pages == len(pages) >= 3
    assert all(says(page, "How many") for page in pages)
    assert says(pages[-1], f"page {pdf.pages} of {pdf.pages}", "Thing 59")


def test_it_is_kept_as_a_paper(order) -> None:
    paper = keep_order(order=order, at=NOW)
    assert (paper.kind, paper.pages) == (Paper.Kind.ORDER, 1)
    assert "order-1" in paper.file.name


def test_an_order_of_nothing_is_not_printed(shop) -> None:
    empty = ordering.draft(shop=shop, supplier="Reed & Sons", by=None, at=AT)
    with pytest.raises(PaperRefused, match="no line yet"):
        keep_order(order=empty, at=NOW)


@pytest.mark.parametrize(
    ("um", "units", "spelled"),
    [
        (1651, Units.INCH, "0.065 in"), (inches("1/16"), Units.INCH, "1/16 in"),
        (inches("3/8"), Units.INCH, "3/8 in"), (inches("1 3/4"), Units.INCH, "1 3/4 in"),
        (1651, Units.MILLIMETRE, "1.65 mm"), (25_400, Units.MILLIMETRE, "25.4 mm"),
    ],
)  # fmt: skip
def test_a_wall_is_never_rounded_to_the_next_size(um, units, spelled) -> None:
    assert fine(um, units) == spelled


@pytest.mark.parametrize(
    ("um", "units", "spelled"),
    [
        (feet(20), Units.INCH, "20 ft"), (inches(102), Units.INCH, "8 ft 6 in"),
        (inches("34 1/2"), Units.INCH, "34 1/2 in"), (inches(15), Units.INCH, "15 in"),
        (6_000_000, Units.MILLIMETRE, "6000 mm"),
    ],
)  # fmt: skip
def test_a_length_is_said_as_suppliers_list_it(um, units, spelled) -> None:
    assert as_sold(um, units) == spelled


def test_packs_are_said_where_they_come_out_whole(stock) -> None:
    assert packs_of(stock.tube, Decimal(5)) == "1 pack of 5"
    assert packs_of(stock.tube, Decimal(7)) == ""
    assert packs_of(stock.straw, Decimal(3)) == ""
