"""A truck at the door: what was ordered, what was given, what does not fit, and the thanks."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from typing import Any
from uuid import uuid4

import pytest
import time_machine
from django.http import HttpResponse
from django.test import Client

from inventory.deliveries.models import Delivery, Order
from inventory.ledger.queries import check, on_hand
from inventory.places.models import Shop
from tests.conftest import NOW
from tests.demo import demo_winter
from workshops.home.demo.people import DEMO_PASSWORD

GOODS_IN = "/quillmere/stock/goods-in/"


@pytest.fixture(scope="module")
def demo(django_db_setup: None, django_db_blocker: Any) -> Iterator[Shop]:
    """The demo, loaded once at the hour the doors open."""
    with time_machine.travel(NOW), demo_winter(django_db_blocker, NOW.date()) as shop:
        yield shop


@pytest.fixture
def shop(demo: Shop, db: None) -> Iterator[Shop]:
    """The demo at the hour the doors open, as it was loaded."""
    with time_machine.travel(NOW):
        yield demo


@pytest.fixture
def keeper(shop: Shop) -> Client:
    """The storekeeper's browser, through the sign-in page."""
    client = Client()
    given = {"username": "storekeeper", "password": DEMO_PASSWORD}
    assert client.post("/sign-in/", given).status_code == 302
    return client


def words(answer: HttpResponse) -> str:
    """What the page says, without its tags."""
    return html.unescape(re.sub(r"(<[^>]+>|\s)+", " ", answer.content.decode()))


def sent(*rows: dict[str, str], **head: str) -> dict[str, Any]:
    typed = {f"r{n}-{name}": text for n, row in enumerate(rows) for name, text in row.items()}
    return {"came": "bought", "key": str(uuid4()), "rows": len(rows)} | typed | head


def there(shop: Shop, slug: str) -> tuple[int, int]:
    """How many are good, and how many on hold."""
    row = next(row for row in on_hand(shop) if row.item.slug == slug)
    return int(row.good), int(row.hold)


def test_a_mixed_truck_lands_in_the_book_with_one_press(shop: Shop, keeper: Client) -> None:
    slugs = ("post-tube", "welded-wire", "flax-straw", "hog-ring")
    before = {slug: there(shop, slug)[0] for slug in slugs}
    rows = (
        {"item": "post tube", "quantity": "6", "length": "24 ft", "wall": "0.109 in"},
        {"item": "welded wire", "quantity": "1", "length": "100 ft", "wire": "0.080 in"},
        {"item": "flax", "quantity": "36", "moisture": "15"},
        {"item": "hog", "quantity": "500"},
    )
    answer = keeper.post(GOODS_IN, sent(*rows, source="Lundgaard Tube"), follow=True)
    assert "Booked in from Lundgaard Tube" in words(answer)
    came = {slug: there(shop, slug)[0] - before[slug] for slug in slugs}
    assert list(came.values()) == [6, 1, 36, 500]
    assert check(shop) == ()


def test_the_rest_of_the_demos_order_comes_and_a_mistake_opens_it_again(
    shop: Shop, keeper: Client
) -> None:
    order = Order.objects.get(shop=shop, supplier="Bramstead Fasteners", state="sent")
    page = keeper.get(f"{GOODS_IN}?order={order.pk}").content.decode()
    assert 'value="Dust mask N95"' in page
    masks, gloves = order.lines.all()
    rows = (
        {"item": "Dust mask N95", "quantity": "20", "order_line": str(masks.pk)},
        {"item": "Leather gloves", "quantity": "", "order_line": str(gloves.pk)},
    )
    given = sent(*rows, source="Bramstead Fasteners", order=str(order.pk))
    told = words(keeper.post(GOODS_IN, given, follow=True))
    assert "60 of 60 came ● all here" in told
    assert "12 to come" in told
    made = Delivery.objects.filter(shop=shop).latest("pk")
    back = f"/quillmere/stock/deliveries/{made.pk}/take-back/{made.received.get().pk}/"
    given = {"reason": "they were gloves", "key": str(uuid4())}
    told = words(keeper.post(back, given, follow=True))
    assert "40 of 60 came 20 to come" in told


def test_given_tube_of_another_wall_is_held_and_the_donor_is_thanked(
    shop: Shop, keeper: Client
) -> None:
    thick = {"item": "post tube", "quantity": "3", "length": "20 ft", "wall": "0.134 in"}
    gift = {"source": "Vessby ranch", "came": "given"}
    refused = keeper.post(GOODS_IN, sent(thick, **gift))
    assert refused.status_code == 422
    assert "0.107 in of play, 0.125 in wanted" in words(refused)
    held = there(shop, "post-tube")[1]
    told = words(keeper.post(GOODS_IN, sent(thick | {"then": "hold"}, **gift), follow=True))
    assert "came on hold" in told
    assert there(shop, "post-tube")[1] == held + 3
    assert "Vessby ranch , due 28 January 2026" in words(keeper.get("/quillmere/stock/letters/"))
    made = Delivery.objects.filter(shop=shop).latest("pk")
    done = keeper.post(f"/quillmere/stock/letters/{made.pk}/sent/", follow=True)
    assert "Vessby ranch is thanked." in words(done)


def test_a_galvanised_metal_is_told_on_its_page_until_none_is_left(
    shop: Shop, keeper: Client
) -> None:
    page = "/quillmere/stock/items/stem-tube/"
    assert "Some of it came galvanised" in words(keeper.get(page))
    gift = Delivery.objects.get(shop=shop, source="Rotherby fencing")
    row = gift.received.get(entry__lines__item__slug="stem-tube", entry__lines__account="shelf")
    keeper.post(f"/quillmere/stock/deliveries/{gift.pk}/coating-gone/{row.pk}/")
    assert "Some of it came" not in words(keeper.get(page))
