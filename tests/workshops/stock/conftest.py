"""A shop with everything a set is made from, a storekeeper's browser, and page reading."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.test import Client
from django.urls import reverse

from inventory.measures.lengths import feet
from inventory.places.models import Shop
from tests.inventory.winter import Stock, make_stock
from workshops.access.models import User


@pytest.fixture
def stock(shop: Shop, clock) -> Stock:
    """Two sticks of tube, a bale of straw, three boxes of rings."""
    stock = make_stock(shop)
    stock.bring(stock.tube, 2, feet(20))
    stock.bring(stock.straw, 1)
    stock.bring(stock.rings, 3)
    return stock


@pytest.fixture
def keeper(storekeeper: User, client_of: Callable[[User], Client]) -> Client:
    """The storekeeper's browser."""
    return client_of(storekeeper)


@pytest.fixture
def at(shop: Shop) -> Callable[..., str]:
    """The address of a page of the stock."""

    def address(page: str, *args: object) -> str:
        return reverse(f"stock:{page}", args=[shop.slug, *args])

    return address
