"""How many sets are possible, what runs out first, what to buy by when."""

from __future__ import annotations

from datetime import date

from inventory.needs.models import NeedsRun
from tests.factories import make_night, make_winter
from workshops.season.models import Target


def asked(stock, sets: str) -> dict[str, str]:
    return {f"sets{stock.complete.pk}": sets, "a_night": "2"}


def test_nobody_asked_yet_and_the_form_is_there(stock, keeper, at) -> None:
    page = keeper.get(at("needs")).content.decode()
    assert "Nobody has asked yet" in page
    assert f'name="sets{stock.complete.pk}"' in page


def test_the_winters_target_is_proposed(stock, keeper, at) -> None:
    winter = make_winter(stock.shop)
    Target.objects.create(winter=winter, item=stock.complete, new=30, spares=5)
    assert 'value="35"' in keeper.get(at("needs")).content.decode()


def test_the_answer_says_sets_shortages_and_what_to_buy(stock, keeper, at) -> None:
    for day in (21, 28):
        make_night(stock.shop, date=date(2026, 1, day))
    page = keeper.post(at("work_out"), asked(stock, "10"), follow=True).content.decode()
    assert "complete sets possible now" in page
    assert "after 3 more sets" in page
    assert "Wednesday 28 January" in page
    assert "once a year only" in page


def test_a_question_and_its_answer_are_kept(stock, keeper, at, storekeeper) -> None:
    keeper.post(at("work_out"), asked(stock, "10"))
    run = NeedsRun.objects.get()
    assert run.made_by == storekeeper
    assert run.problem["variants"] == [{"item": "Set", "wanted": 10}]


def test_no_sets_wanted_is_refused_in_a_sentence(stock, keeper, at) -> None:
    answer = keeper.post(at("work_out"), asked(stock, "0"))
    assert answer.status_code == 422
    assert "Say how many sets are wanted" in answer.content.decode()


def test_all_that_is_wanted_being_there_buys_nothing(stock, keeper, at) -> None:
    page = keeper.post(at("work_out"), asked(stock, "1"), follow=True).content.decode()
    assert "Nothing: all that is wanted can be made" in page


def test_a_shop_without_sets_is_told_what_to_do_first(shop, keeper, at) -> None:
    assert "no complete set yet. Add it as an item" in keeper.get(at("needs")).content.decode()


def test_a_reader_sees_the_answer_and_cannot_ask(stock, reader, client_of, at) -> None:
    client = client_of(reader)
    assert "Work it out" not in client.get(at("needs")).content.decode()
    assert client.post(at("work_out"), asked(stock, "4")).status_code == 403
    assert not NeedsRun.objects.exists()
