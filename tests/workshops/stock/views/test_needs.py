"""What stops us first, on which night, and what to buy by when."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from inventory.deliveries import ordering
from inventory.deliveries.models import Order
from inventory.deliveries.ordering import Asked
from inventory.needs.models import NeedsRun
from tests.factories import make_night, make_winter
from tests.inventory.winter import AT
from workshops.season.models import Target


def asked(stock, sets: str, **rest: str) -> dict[str, str]:
    usual = {"pace": "rate", "a_night": "2", "scrap": "0"}
    return {f"sets{stock.complete.pk}": sets, **usual, **rest}


@pytest.fixture
def nights(stock) -> None:
    for day in (21, 28):
        make_night(stock.shop, date=date(2026, 1, day))


def ask(keeper, at, stock, sets: str, **rest: str) -> str:
    return keeper.post(at("work_out"), asked(stock, sets, **rest), follow=True).content.decode()


def send_order(stock, quantity: int, day: date | None) -> Order:
    lines = [Asked(stock.tube, Decimal(quantity))]
    order = ordering.draft(shop=stock.shop, supplier="Reed & Sons", by=None, at=AT, lines=lines)
    return ordering.send(order=order, on=date(2026, 1, 2), by=None, expected_on=day)


def test_nobody_asked_yet_and_the_form_is_there(stock, keeper, at) -> None:
    page = keeper.get(at("needs")).content.decode()
    assert "Not worked out yet" in page
    assert f'name="sets{stock.complete.pk}"' in page


def test_the_winters_target_is_proposed(stock, keeper, at) -> None:
    winter = make_winter(stock.shop)
    Target.objects.create(winter=winter, item=stock.complete, new=30, spares=5)
    assert 'value="35"' in keeper.get(at("needs")).content.decode()


def test_the_first_thing_said_is_what_stops_us_and_on_which_night(
    nights, stock, keeper, at
) -> None:
    page = ask(keeper, at, stock, "10")
    first = page[page.index("What stops us first") : page.index("Complete sets possible now")]
    assert ">Tube</a>" in first
    assert "on Wednesday 28 January" in first
    assert "lasts for 3 more sets" in first


def test_the_buy_list_stands_by_supplier_with_its_dates(nights, stock, keeper, at) -> None:
    page = ask(keeper, at, stock, "10")
    reed = page[page.index("<h3>Reed &amp; Sons</h3>") :]
    assert "order by <strong>Wed 21 Jan</strong>" in reed
    assert "1 pack of 5" in reed
    assert "one chance a year" in page
    assert "No supplier known" in page


def test_a_day_that_has_passed_is_said(stock, keeper, at) -> None:
    make_night(stock.shop, date=date(2026, 1, 15))
    page = ask(keeper, at, stock, "10", a_night="9")
    assert "should have been ordered by Thu 8 Jan" in page


def test_the_assumption_about_the_nights_is_said(nights, stock, keeper, at) -> None:
    assert "2 sets on every planned night, begun and finished on it." in ask(keeper, at, stock, "9")


def test_without_a_winter_the_pace_falls_back_to_a_usual_night(nights, stock, keeper, at) -> None:
    assert "1 set on every planned night" in ask(keeper, at, stock, "9", pace="pace")


def test_the_explosion_is_in_the_fold(nights, stock, keeper, at) -> None:
    page = ask(keeper, at, stock, "10", scrap="10")
    fold = page[page.index("part by part") :]
    assert "10 % stated" in fold.replace("\n", " ")
    assert "pieces of" in fold


def test_a_question_and_its_answer_are_kept(stock, keeper, at, storekeeper) -> None:
    keeper.post(at("work_out"), asked(stock, "10"))
    run = NeedsRun.objects.get()
    assert run.made_by == storekeeper
    assert run.problem["variants"] == [{"item": "Set", "wanted": 10}]


def test_what_is_on_order_in_time_is_not_bought_again(nights, stock, keeper, at) -> None:
    send_order(stock, 5, date(2026, 1, 27))
    page = ask(keeper, at, stock, "10")
    assert "<h3>Reed &amp; Sons</h3>" not in page
    assert "1 line on order is still to come" in page
    assert "Straw" in page[page.index("What stops us first") : page.index("possible now")]


def test_a_late_order_is_said_and_no_night_counts_on_it(nights, stock, keeper, at) -> None:
    send_order(stock, 5, date(2026, 1, 10))
    page = ask(keeper, at, stock, "10")
    assert "should be here by now" in page
    first = page[page.index("What stops us first") : page.index("possible now")]
    assert ">Tube</a>" in first


def test_what_moved_since_makes_the_answer_old(nights, stock, keeper, at, clock) -> None:
    assert "changed since" not in ask(keeper, at, stock, "10")
    clock.shift(60)
    stock.bring(stock.rings, 1)
    assert "Stock or orders changed since" in keeper.get(at("needs")).content.decode()


def test_an_order_sent_since_makes_the_answer_old(nights, stock, keeper, at) -> None:
    ask(keeper, at, stock, "10")
    send_order(stock, 5, date(2026, 1, 27))
    assert "Stock or orders changed since" in keeper.get(at("needs")).content.decode()


def test_a_kept_level_says_when_to_order(stock, keeper, at) -> None:
    page = ask(keeper, at, stock, "4")
    assert "Always kept: when to order" in page
    assert "in reserve" in page


def test_no_sets_wanted_is_refused_in_a_sentence(stock, keeper, at) -> None:
    answer = keeper.post(at("work_out"), asked(stock, "0"))
    assert answer.status_code == 422
    assert "Say how many sets are wanted" in answer.content.decode()


def test_a_rate_without_a_number_is_refused(stock, keeper, at) -> None:
    answer = keeper.post(at("work_out"), asked(stock, "5", a_night=""))
    assert answer.status_code == 422
    assert "Say how many sets are finished on a night" in answer.content.decode()


def test_all_that_is_wanted_being_there_buys_nothing(stock, keeper, at) -> None:
    page = ask(keeper, at, stock, "1")
    assert "All that is wanted can be made from what is here" in page
    assert "Nothing: all that is wanted" in page


def test_a_shop_without_sets_is_told_what_to_do_first(shop, keeper, at) -> None:
    assert "no complete set yet. Add it as an item" in keeper.get(at("needs")).content.decode()


def test_a_reader_sees_the_answer_and_cannot_ask(stock, reader, client_of, at) -> None:
    client = client_of(reader)
    assert "Work it out" not in client.get(at("needs")).content.decode()
    assert client.post(at("work_out"), asked(stock, "4")).status_code == 403
    assert not NeedsRun.objects.exists()


def test_the_page_asks_as_often_with_twice_the_orders(
    nights, stock, keeper, at, django_assert_max_num_queries
) -> None:
    ask(keeper, at, stock, "10")
    for _ in range(2):
        send_order(stock, 5, date(2026, 1, 27))
        with django_assert_max_num_queries(22):
            keeper.get(at("needs"))
