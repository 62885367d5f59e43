"""Things as they are: bales and their warmth, a roll that was measured, sizes, sticks and drops."""

from __future__ import annotations

from uuid import uuid4

import pytest
from django.test import Client

from inventory.ledger.models import Entry
from inventory.ledger.queries import check, pieces_of
from inventory.materials.models import Item
from inventory.measures.lengths import feet
from inventory.places.models import Place
from inventory.readings.models import Reading
from tests.inventory.winter import Stock, make_stock

pytestmark = pytest.mark.django_db

HOME = "/teal-point/stock"
STRAW = {
    "name": "Flax straw", "kind": "fill", "unit": "bale", "keep_at_least": 0, "pack_size": 1,
    "lead_days": 5, "bale_length_um": "36 in", "bale_width_um": "18 in", "bale_height_um": "14",
    "bale_weight_g": "40",
}  # fmt: skip


@pytest.fixture
def stock(shop, clock) -> Stock:
    return make_stock(shop)


@pytest.fixture
def browser(stock, coordinator, client_of) -> Client:
    return client_of(coordinator)


def sent(browser: Client, page: str, **given: object) -> str:
    given = {"key": str(uuid4())} | given
    return browser.post(f"{HOME}/{page}", given, follow=True).content.decode()


def test_straw_comes_in_bales_is_probed_warms_and_is_told_at_home(stock, browser) -> None:
    assert "Flax straw is added." in sent(browser, "new-item/", **STRAW)
    straw = Item.objects.get(slug="flax-straw")
    Item.objects.filter(pk=straw.pk).update(home=Place.objects.get(name="Shelf"))
    straw.refresh_from_db()
    stock.bring(straw, 24)
    page = browser.get(f"{HOME}/items/flax-straw/").content.decode()
    assert "960 lb" in page
    assert "126 cu ft" in page
    assert "About 126 cubic feet" in browser.get(f"{HOME}/straw-watch/").content.decode()
    lot = f"{straw.pk}:{straw.home_id}:"
    assert "Danger: probe every 2 hours" in sent(
        browser, "straw-watch/probed/", lot=lot, temperature="161", moisture_percent="21"
    )
    assert "Danger: probe every 2 hours" in browser.get("/teal-point/").content.decode()
    wrong = Reading.objects.get()
    sent(browser, f"straw-watch/{wrong.pk}/correct/", temperature="116", reason="read it wrong")
    assert "Danger" not in browser.get("/teal-point/").content.decode()


def test_a_begun_roll_is_measured_by_its_diameters_and_the_book_follows(stock, browser) -> None:
    wire = {
        "name": "Wire", "kind": "metal", "unit": "roll", "shape": "wire_mesh", "mesh": "1 x 1 in",
        "wire_um": "0.080 in", "bought_length_um": "100 ft", "keep_at_least": 0, "pack_size": 1,
        "lead_days": 9, "home": Place.objects.get(name="Shelf").pk,
    }  # fmt: skip
    sent(browser, "new-item/", **wire)
    roll = Item.objects.get(slug="wire")
    stock.bring(roll, 1, feet(100))
    measured = {"spot": roll.balances.get().pk, "outside": "13", "core": "6", "thickness": "0.2 in"}
    shown = sent(browser, "items/wire/roll/", **measured)
    assert "left on the roll" in shown
    assert pieces_of(roll) == [(feet(100), 1)]
    assert "are left on it" in sent(browser, "items/wire/roll/", **measured, write="1")
    ((left, count),) = pieces_of(roll)
    assert (round(left / feet(1)), count) == (44, 1)
    assert Entry.objects.latest("pk").reason == "measured by its diameters"
    assert check(stock.shop) == ()


def test_gloves_of_two_sizes_are_told_apart_and_drops_lie_beside_sticks(stock, browser) -> None:
    gloves = {"name": "Gloves", "kind": "small", "unit": "pair", "group": "wear", "lead_days": 6,
              "keep_at_least": 0, "pack_size": 12, "pack_name": "box"}  # fmt: skip
    for size in ("M", "L"):
        assert f"Gloves, {size} is added." in sent(browser, "new-item/", **gloves, size=size)
    for length, count in ((feet(20), 2), (feet(3), 4)):
        stock.bring(stock.tube, count, length)
    page = browser.get(f"{HOME}/items/tube/").content.decode()
    assert page.index("Whole sticks") < page.index("2 × 240 in") < page.index("4 × 36 in")
    assert "lb a foot" in page
