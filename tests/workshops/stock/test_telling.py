"""An entry as people tell it: nothing that only makes the book add up."""

from __future__ import annotations

from decimal import Decimal

from django.utils import timezone

from inventory.ledger import actions as ledger
from inventory.materials.queries import recipe_of
from inventory.measures.lengths import feet
from tests.inventory.winter import make_stock
from workshops.stock.telling import told


def words(entry) -> list[tuple[str, Decimal, str, str]]:
    """Item, quantity, place and what is beyond it, line by line."""
    return [
        (row.line.item.name, row.line.quantity, str(row.line.place or ""), row.beyond)
        for row in told(entry)
    ]


def test_what_came_is_told_once_and_from_outside(shop, clock) -> None:
    stock = make_stock(shop)
    entry = ledger.goods_in(
        shop=shop, item=stock.rings, quantity=Decimal(5), place=stock.rings.home, source="Alder",
        is_donated=False, by=None, at=timezone.now(),
    )  # fmt: skip
    beyond = "supplier, donor or marsh"
    assert words(entry) == [("Rings", Decimal(5), str(stock.rings.home), beyond)]


def test_what_is_carried_is_told_at_both_places_and_nowhere_else(shop, clock) -> None:
    stock = make_stock(shop)
    stock.bring(stock.rings, 5)
    entry = ledger.move(
        shop=shop, item=stock.rings, quantity=Decimal(2), source=stock.rings.home,
        target=stock.tube.home, by=None, at=timezone.now(),
    )  # fmt: skip
    assert sorted(quantity for _, quantity, _, _ in words(entry)) == [-2, 2]
    assert {beyond for *_, beyond in words(entry)} == {""}


def test_making_tells_what_it_took_and_what_it_made(shop, clock) -> None:
    stock = make_stock(shop)
    stock.bring(stock.tube, 1, feet(20))
    entry = ledger.make(shop=shop, recipe=recipe_of(stock.head), good=1, by=None, at=timezone.now())
    assert {beyond for *_, place, beyond in words(entry) if place} == {
        "used in making",
        "made here",
    }
