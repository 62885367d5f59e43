"""The storekeeper and the book: typed in next day, sent back, taken to the marsh, traced."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal
from uuid import uuid4

from django.test import Client
from django.utils import timezone

from inventory.ledger import actions as ledger
from inventory.ledger.checking import faults
from inventory.ledger.models import Balance, Entry
from inventory.ledger.queries import balance_of, on_hand_of
from inventory.materials.queries import recipe_of
from inventory.measures.lengths import feet
from tests.inventory.winter import Stock, make_stock


def set_aside(keeper: Client, stock: Stock, act: str, **fields: object) -> str:
    """Does something with two boxes of rings through their page; what the browser shows then."""
    spot = Balance.objects.get(item=stock.rings, quantity__gt=0)
    given = {"spot": spot.pk, "quantity": "2", "act": act, "key": str(uuid4())} | fields
    address = f"/{stock.shop.slug}/stock/items/rings/set-aside/"
    return keeper.post(address, given, follow=True).content.decode()


def test_what_was_typed_in_next_day_says_so(shop, storekeeper, client_of, clock) -> None:
    stock, keeper = make_stock(shop), client_of(storekeeper)
    ledger.goods_in(
        shop=shop, item=stock.rings, quantity=Decimal(5), place=stock.rings.home, source="Alder",
        is_donated=False, by=storekeeper, at=timezone.now() - timedelta(days=1),
    )  # fmt: skip
    page = keeper.get(f"/{shop.slug}/stock/movements/").content.decode()
    assert "13 Jan 18:00" in page
    assert "typed in later, 14 Jan 18:00" in page


def test_rings_are_sent_back_and_sets_of_them_leave(shop, storekeeper, client_of, clock) -> None:
    stock, keeper = make_stock(shop), client_of(storekeeper)
    stock.bring(stock.rings, 7)
    assert "Say why" in set_aside(keeper, stock, "return")
    assert "sent back to the supplier" in set_aside(keeper, stock, "return", reason="too small")
    assert "taken to the marsh" in set_aside(keeper, stock, "set_out")
    assert balance_of(stock.rings) == 3
    kinds = set(Entry.objects.filter(shop=shop).values_list("kind", flat=True))
    assert kinds == {"goods_in", "returned", "set_out"}
    assert list(faults(shop)) == []


def test_sets_come_back_from_the_marsh_to_a_shelf_on_which_none_lay(
    shop, storekeeper, client_of, clock
) -> None:
    stock, keeper = make_stock(shop), client_of(storekeeper)
    page = keeper.get(f"/{shop.slug}/stock/items/set/").content.decode()
    assert "Back from the marsh" in page
    given = {"quantity": "2", "act": "back_held", "target": stock.complete.home_id, "key": uuid4()}
    address = f"/{shop.slug}/stock/items/set/set-aside/"
    assert "Say why" in keeper.post(address, given).content.decode()
    answer = keeper.post(address, given | {"reason": "ice took them"}, follow=True)
    assert "came back from the marsh" in answer.content.decode()
    assert on_hand_of(stock.complete).hold == 2
    assert list(faults(shop)) == []


def test_steel_is_not_brought_back_from_the_marsh(shop, storekeeper, client_of, clock) -> None:
    stock, keeper = make_stock(shop), client_of(storekeeper)
    stock.bring(stock.rings, 7)
    assert "marsh, good" not in set_aside(keeper, stock, "back", reason="spare")
    assert balance_of(stock.rings) == 7


def test_a_head_leads_to_the_supplier_of_its_steel(shop, storekeeper, client_of, clock) -> None:
    stock, keeper = make_stock(shop), client_of(storekeeper)
    stock.bring(stock.tube, 1, feet(20))
    recipe = recipe_of(stock.head)
    ledger.make(shop=shop, recipe=recipe, good=2, by=storekeeper, at=timezone.now())
    item = keeper.get(f"/{shop.slug}/stock/items/head/").content.decode()
    assert "Which deliveries did these come from?" in item
    page = keeper.get(f"/{shop.slug}/stock/items/head/came-from/").content.decode()
    assert "made, 14 Jan 2026" in page
    delivery = Entry.objects.get(kind="goods_in")
    assert f"/{shop.slug}/stock/movements/{delivery.pk}/" in page
    assert "from Reed &amp; Sons" in page
