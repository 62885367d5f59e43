"""Orders: begun from the buy list, written, sent, expected, ended."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from inventory.deliveries import ordering
from inventory.deliveries.models import Order, OrderLine
from inventory.deliveries.ordering import Asked
from tests.factories import make_item, make_night
from tests.inventory.deliveries.orders import come, make_order
from tests.inventory.winter import AT
from tests.workshops.stock.views.test_needs import asked

TODAY = date(2026, 1, 14)


@pytest.fixture
def draft(stock) -> Order:
    return make_order(stock)


@pytest.fixture
def sent(draft) -> Order:
    return ordering.send(order=draft, on=TODAY, by=None, expected_on=date(2026, 1, 21))


def post(keeper, at, page: str, order: Order, **given: object) -> str:
    return keeper.post(at(page, order.pk), given, follow=True).content.decode()


def boxes(order: Order, **changed: object) -> dict[str, object]:
    """What the draft's page sends when nothing was typed."""
    usual: dict[str, object] = {"wanted_on": "", "deliver_to": "", "note": ""}
    for line in order.lines.all():
        usual |= {f"q{line.pk}": line.quantity, f"p{line.pk}": line.unit_price or ""}
    return usual | changed


def test_without_an_order_the_list_leads_to_the_buy_list(shop, keeper, at) -> None:
    page = keeper.get(at("orders")).content.decode()
    assert "Nothing was ordered yet" in page
    assert at("needs") in page


def test_the_buy_list_makes_an_order_with_its_lines(stock, keeper, at) -> None:
    for day in (21, 28):
        make_night(stock.shop, date=date(2026, 1, day))
    keeper.post(at("work_out"), asked(stock, "10"))
    page = keeper.post(at("start_order"), {"supplier": "Reed & Sons"}, follow=True)
    line = OrderLine.objects.get()
    assert (line.item, line.quantity, line.unit_price) == (stock.tube, 5, Decimal(30))
    assert line.order.wanted_on == date(2026, 1, 28)
    assert "Send it" in page.content.decode()


def test_pressing_twice_opens_the_one_draft(stock, keeper, at) -> None:
    for _ in range(2):
        page = keeper.post(at("start_order"), {"supplier": "Reed & Sons"}, follow=True)
    assert "is being written already" in page.content.decode()
    assert Order.objects.count() == 1


def test_what_was_sent_since_is_not_ordered_again(stock, sent, keeper, at) -> None:
    ordering.close(order=sent, by=None, at=AT, why="the first of two")
    keeper.post(at("work_out"), asked(stock, "10"))
    lines = [Asked(stock.tube, Decimal(5))]
    other = ordering.draft(shop=stock.shop, supplier="Else", by=None, at=AT, lines=lines)
    ordering.send(order=other, on=TODAY, by=None)
    keeper.post(at("start_order"), {"supplier": "Reed & Sons"})
    assert not Order.objects.get(state="draft").lines.exists()


def test_an_order_to_nobody_is_refused(shop, keeper, at) -> None:
    page = keeper.post(at("start_order"), {"supplier": " "}, follow=True).content.decode()
    assert "Say who the order goes to" in page


def test_a_draft_is_written_on_one_page(stock, draft, keeper, at) -> None:
    tube = draft.lines.get(item=stock.tube)
    given = boxes(draft, **{f"q{tube.pk}": "15", f"p{tube.pk}": "28.50"})
    given |= {"deliver_to": "The yard", "item": stock.rings.pk, "quantity": "2"}
    assert "Written down." in post(keeper, at, "write_order", draft, **given)
    tube.refresh_from_db()
    draft.refresh_from_db()
    assert (tube.quantity, tube.unit_price) == (15, Decimal("28.50"))
    assert (draft.deliver_to, draft.lines.count()) == ("The yard", 3)


def test_an_emptied_box_takes_its_line_off(stock, draft, keeper, at) -> None:
    straw = draft.lines.get(item=stock.straw)
    post(keeper, at, "write_order", draft, **boxes(draft, **{f"q{straw.pk}": ""}))
    assert [line.item for line in draft.lines.all()] == [stock.tube]


def test_half_a_stick_is_refused_and_nothing_is_half_written(stock, draft, keeper, at) -> None:
    tube = draft.lines.get(item=stock.tube)
    given = boxes(draft, **{f"q{tube.pk}": "1.5", "note": "quick"})
    assert "whole sticks" in post(keeper, at, "write_order", draft, **given)
    draft.refresh_from_db()
    assert draft.note == ""


def test_another_thing_without_a_number_is_asked_for(stock, draft, keeper, at) -> None:
    given = boxes(draft, item=stock.rings.pk)
    answer = keeper.post(at("write_order", draft.pk), given)
    assert answer.status_code == 422
    assert "Say how many." in answer.content.decode()


def test_a_thing_of_another_shop_cannot_be_added(draft, other_shop, keeper, at) -> None:
    given = boxes(draft, item=make_item(other_shop, kind="small").pk, quantity="1")
    assert keeper.post(at("write_order", draft.pk), given).status_code == 422


def test_a_sent_order_says_who_and_when_and_can_be_received(draft, keeper, at) -> None:
    page = post(keeper, at, "send_order", draft, on="2026-01-14", expected_on="2026-01-21")
    assert "Sent Wednesday 14 January by Signe, expected Wednesday 21 January" in page
    assert f"{at('goods_in')}?order={draft.pk}" in page
    assert "Save the order" not in page


def test_a_sent_order_cannot_be_written_any_more(sent, keeper, at) -> None:
    page = post(keeper, at, "write_order", sent, **boxes(sent))
    assert "its lines stand as the supplier has them" in page


def test_a_day_that_makes_no_sense_is_said_beside_its_box(draft, keeper, at) -> None:
    answer = keeper.post(at("send_order", draft.pk), {"on": "soon"})
    assert answer.status_code == 422
    assert "Enter a valid date" in answer.content.decode()


def test_what_came_stands_against_each_line(stock, sent, keeper, at) -> None:
    come(sent.lines.get(item=stock.tube), 4)
    come(sent.lines.get(item=stock.straw), 3)
    page = " ".join(keeper.get(at("order", sent.pk)).content.decode().split())
    assert '<td class="wb-number"><strong>6</strong></td>' in page
    assert page.count("all here") == 1


def test_when_all_came_it_is_closed_without_a_reason(sent, keeper, at) -> None:
    for line in sent.lines.all():
        come(line, line.quantity)
    assert "All of it came" in keeper.get(at("order", sent.pk)).content.decode()
    assert "Closed." in post(keeper, at, "end_order", sent, why="")


def test_part_missing_closes_for_a_reason_alone(sent, keeper, at) -> None:
    assert "Say why nothing more is expected" in post(keeper, at, "end_order", sent, why="")
    assert "Closed: sold out" in post(keeper, at, "end_order", sent, why="sold out").replace(
        "Closed 14 January", "Closed"
    )


def test_a_draft_is_called_off_with_its_reason(draft, keeper, at) -> None:
    assert "Called off." in post(keeper, at, "end_order", draft, why="given", cancel="1")
    assert "given" in keeper.get(at("orders")).content.decode()


def test_a_new_day_is_written_down(sent, keeper, at) -> None:
    assert "expected Monday 2 February" in post(
        keeper, at, "expect_order", sent, expected_on="2026-02-02"
    )


def test_what_comes_stands_by_day_and_what_is_late_first(stock, sent, keeper, at, clock) -> None:
    page = keeper.get(at("coming")).content.decode()
    assert "Wednesday 21 January" in page
    assert "Late" not in page
    clock.shift(8 * 24 * 3600)
    page = keeper.get(at("coming")).content.decode()
    assert "should be here" in page
    assert "expected Wed 21 Jan" in page


def test_nothing_to_come_says_so(shop, keeper, at) -> None:
    assert "Nothing is on its way" in keeper.get(at("coming")).content.decode()


def test_an_order_of_another_shop_is_not_found(sent, other_shop, keeper, at) -> None:
    theirs = ordering.draft(shop=other_shop, supplier="Theirs", by=None, at=AT)
    assert keeper.get(at("order", theirs.pk)).status_code == 404
    assert keeper.post(at("end_order", theirs.pk), {"why": "x"}).status_code == 404


def test_a_reader_sees_orders_and_changes_none(sent, reader, client_of, at) -> None:
    client = client_of(reader)
    page = client.get(at("order", sent.pk)).content.decode()
    assert "Receive this order" not in page
    assert client.post(at("end_order", sent.pk), {"why": "x"}).status_code == 403


@pytest.mark.parametrize(("page", "most"), [("orders", 10), ("coming", 7)])
def test_a_list_asks_as_often_with_twice_the_orders(
    stock, keeper, at, page, most, django_assert_max_num_queries
) -> None:
    for start in range(0, 8, 4):
        for n in range(start, start + 4):
            lines = [Asked(stock.tube, Decimal(5)), Asked(stock.rings, Decimal(5))]
            order = ordering.draft(shop=stock.shop, supplier=f"S{n}", by=None, at=AT, lines=lines)
            ordering.send(order=order, on=TODAY, by=None)
        with django_assert_max_num_queries(most):
            keeper.get(at(page))


def test_the_order_page_asks_as_often_with_more_lines(
    stock, sent, keeper, at, django_assert_max_num_queries
) -> None:
    with django_assert_max_num_queries(8):
        keeper.get(at("order", sent.pk))
