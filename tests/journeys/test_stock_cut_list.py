"""A steel night at the saw: the list of the plan, ticked by two, a short stick, the rest, paper."""

from __future__ import annotations

from uuid import uuid4

import pytest
from django.test import Client

from inventory.cutting.models import CutListRun, CutTick
from inventory.ledger.models import Entry
from inventory.ledger.queries import check, pieces_of
from inventory.materials.queries import recipe_of
from inventory.measures.lengths import feet
from tests.factories import make_operation, make_station
from tests.inventory.winter import Stock, make_stock
from tests.workshops.stock.test_tonight import planned
from workshops.common.jobs import run_now
from workshops.common.models import Job
from workshops.paper.models import Paper

pytestmark = pytest.mark.django_db

LISTS = "/teal-point/stock/cut-lists"


@pytest.fixture
def stock(shop, clock) -> Stock:
    """Eight sticks, and a plan that cuts ten posts tonight."""
    stock = make_stock(shop)
    stock.bring(stock.tube, 8, feet(20))
    operation = make_operation(make_station(shop), recipe_of(stock.post))
    planned(stock, posts=(operation, 10))
    return stock


@pytest.fixture
def two(storekeeper, duty_lead, client_of) -> tuple[Client, Client]:
    """The storekeeper's tablet and the duty lead's."""
    return client_of(storekeeper), client_of(duty_lead)


def press(browser: Client, run: CutListRun, do: str, key: object = None) -> str:
    sent = {"do": do, "key": key or uuid4()}
    return browser.post(f"{LISTS}/{run.pk}/cut/", sent, follow=True).content.decode()


def tonights_list(browser: Client) -> CutListRun:
    assert "for 14 January 2026" in browser.post(f"{LISTS}/tonight/", follow=True).content.decode()
    return CutListRun.objects.latest("pk")


def test_two_tablets_tick_one_list_and_the_book_stays_right(stock, two) -> None:
    saw, rack = two
    run, key = tonights_list(saw), uuid4()
    press(saw, run, "one:0", key)
    # the answer got lost, so the tablet sends the same press again
    press(saw, run, "one:0", key)
    assert "2 of 5 sticks, 4 of 10 pieces" in press(rack, run, "one:0")
    assert "Taken back" in press(saw, run, f"back:{CutTick.objects.latest('pk').pk}")
    assert "5 of 5 sticks, 10 of 10 pieces" in press(rack, run, "all:0")
    assert dict(pieces_of(stock.tube))[feet(7)] == 10
    assert check(stock.shop) == ()


def test_the_third_post_is_a_quarter_inch_short_and_the_rest_is_worked_out(stock, two) -> None:
    saw, _ = two
    run = tonights_list(saw)
    press(saw, run, "one:0")
    short = {"length": "239 3/4", "good0": "1", "rest": "thrown", "reason": "third is short"}
    address = f"{LISTS}/{run.pk}/other-stick/?pattern=0"
    assert (
        "will not give 1 × Post"
        in saw.post(address, short | {"key": uuid4()}, follow=True).content.decode()
    )
    assert Entry.objects.filter(reason__endswith="239 3/4 in: third is short").count() == 1
    page = saw.post(f"{LISTS}/{run.pk}/rest/", follow=True).content.decode()
    rest = CutListRun.objects.latest("pk")
    assert [piece["count"] for piece in rest.problem["pieces"]] == [7]
    assert "0 of 4 sticks, 0 of 7 pieces" in page
    # The old list is shown as it was, with what was cut by it.
    old = saw.get(f"{LISTS}/{run.pk}/").content.decode()
    assert "2 of 5 sticks, 3 of 10 pieces" in old
    assert "Cut one" not in old
    assert "4 of 4 sticks" in press(saw, rest, "all:0") or press(saw, rest, "all:1")
    assert check(stock.shop) == ()


def test_sheared_and_sawn_lists_are_printed_on_one_sheet(stock, two) -> None:
    saw, _ = two
    for way in ("shear", "saw"):
        given = {"label0": "Rod", "length0": "24 in", "count0": "20", "night": "", "way": way}
        question = f"item={stock.tube.pk}&sets{stock.complete.pk}=1"
        saw.post(f"{LISTS}/new/?{question}", given)
    sheared, sawn = CutListRun.objects.order_by("pk")
    assert [sum(row["times"] for row in run.result["runs"]) for run in (sheared, sawn)] == [2, 3]
    saw.post("/teal-point/paper/cut-list/", {"list": [sheared.pk, sawn.pk]})
    run_now(Job.objects.latest("pk"))
    assert Paper.objects.get().kind == Paper.Kind.CUT_LIST


def test_on_a_second_night_nothing_needs_cutting(stock, two) -> None:
    saw, _ = two
    press(saw, tonights_list(saw), "all:0")
    page = saw.post(f"{LISTS}/tonight/", follow=True).content.decode()
    assert "10 × Post (84 in) lie cut to length already" in page
    assert CutListRun.objects.count() == 1
