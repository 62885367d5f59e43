"""The straw watch in the browser: what to do, when to look again, and three fields to fill."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal
from uuid import uuid4

import pytest
from django.utils import timezone

from inventory.materials.models import Item
from inventory.readings.models import Reading
from tests.workshops.club.test_queries import keep


@pytest.fixture
def probe(stock, keeper, at):
    """Writes down a reading of the straw, and answers with the page it leads to."""

    def post(temperature: str = "", moisture: str = "", **fields: object):
        lot = keeper.get(at("straw")).context["watch"].rows[0].lot.key
        given = {"lot": lot, "temperature": temperature, "moisture_percent": moisture}
        given |= {"key": str(uuid4())} | fields
        return keeper.post(at("take_reading"), given, follow=True)

    return post


def text(answer) -> str:
    return answer.content.decode()


def test_a_lot_that_nobody_probed_asks_for_it(stock, keeper, at) -> None:
    page = text(keeper.get(at("straw")))
    assert "never probed" in page
    assert "nobody has probed it yet" in page
    assert "come before this page" in page


@pytest.mark.parametrize(
    ("degrees", "says"),
    [("149", "below the marks"), ("150", "every 12 hours"), ("160", "every 2 hours"),
     ("175", "Do not open the stack"), ("190", "Move nothing")],
)  # fmt: skip
def test_each_mark_says_what_to_do(probe, degrees, says) -> None:
    page = text(probe(degrees))
    assert says in page
    assert "safe" not in page.replace("Safety", "")


def test_the_club_sets_the_marks_and_the_intervals(shop, probe) -> None:
    keep(shop, "hay_watch_hours", 4)
    assert "every 4 hours" in text(probe("165"))


def test_a_club_that_reads_celsius_types_celsius(shop, probe) -> None:
    keep(shop, "temperature_unit", "C")
    assert "66 °C" in text(probe("66"))
    assert "every 12 hours" in text(probe("66"))
    assert Reading.objects.first().temperature_f == Decimal("150.8")


def test_a_damp_bale_is_told_by_the_clubs_limit(shop, probe) -> None:
    keep(shop, "bale_moisture_max_percent", 18)
    assert "18 %" in text(probe("", "19"))
    assert ">damp<" in text(probe("", "19")).replace("\n", "").replace(" ", "")


def test_the_way_it_goes_and_the_next_look_are_told(probe, clock) -> None:
    probe("140")
    clock.shift(timedelta(hours=12))
    page = text(probe("152"))
    assert "12 °F warmer than 12 hours before" in page
    assert "warm" in page


def test_overdue_stacks_stand_first_and_the_hottest_before_them(stock, probe, keeper, at, clock):
    probe("90", words="cool one")
    clock.shift(timedelta(days=8))
    probe("80", words="fresh one")
    probe("161", words="hot one")
    rows = keeper.get(at("straw")).context["watch"].rows
    assert [row.lot.words for row in rows] == ["hot one", "cool one", "fresh one"]
    assert [row.is_overdue for row in rows] == [False, True, False]


@pytest.mark.parametrize(
    ("fields", "field"),
    [({}, "temperature"), ({"temperature": "hot"}, "temperature"),
     ({"temperature": "5000"}, "temperature"), ({"moisture": "101"}, "moisture_percent"),
     ({"temperature": "90", "probed_at": "2031-01-01T10:00"}, "probed_at"),
     ({"temperature": "90", "lot": "9:9:"}, "lot")],
)  # fmt: skip
def test_nonsense_names_its_field_and_writes_nothing(probe, fields, field) -> None:
    answer = probe(**fields)
    assert answer.status_code == 422
    assert field in answer.context["form"].errors
    assert not Reading.objects.exists()


def test_a_reading_is_corrected_and_both_lines_stay(probe, keeper, at) -> None:
    probe("190")
    wrong = Reading.objects.get()
    sent = {"temperature": "109", "reason": "read upside down", "key": str(uuid4())}
    page = text(keeper.post(at("correct_reading", wrong.pk), sent, follow=True))
    assert "<s>190" in page
    assert "read upside down" in page
    assert "Move nothing" not in page


def test_a_correction_without_a_reason_is_refused(probe, keeper, at) -> None:
    probe("190")
    url = at("correct_reading", Reading.objects.get().pk)
    assert keeper.post(url, {"key": str(uuid4())}).status_code == 422


def test_a_warm_stack_is_told_on_the_stock_page_and_at_home(shop, probe, keeper, at) -> None:
    probe("163")
    for url in (at("on_hand"), f"/{shop.slug}/"):
        assert "Danger: probe every 2 hours" in text(keeper.get(url))


def test_a_large_volume_defers_to_the_fire_service(stock, keeper, at) -> None:
    sizes = {"bale_length_um": 914_400, "bale_width_um": 457_200, "bale_height_um": 355_600}
    Item.objects.filter(pk=stock.straw.pk).update(bale_weight_g=18_000, **sizes)
    stock.bring(stock.straw, 19)  # twenty bales of 5.25 cubic feet
    page = text(keeper.get(at("straw")))
    assert "About 105 cubic feet" in page
    assert "ask your fire service" in page


def test_without_a_bales_size_the_volume_is_asked_for(stock, keeper, at) -> None:
    assert "measure and weigh one bale" in text(keeper.get(at("straw")))


@pytest.mark.parametrize("times", [1, 2])
def test_the_watch_takes_as_many_queries_however_long_the_log(
    stock, keeper, at, django_assert_max_num_queries, times
) -> None:
    now = timezone.now()
    Reading.objects.bulk_create(
        Reading(shop=stock.shop, item=stock.straw, place=stock.straw.home, lot=f"stack {n % 5}",
                temperature=Decimal(90), probed_at=now - timedelta(hours=n))
        for n in range(40 * times)
    )  # fmt: skip
    with django_assert_max_num_queries(9):
        keeper.get(at("straw"))
