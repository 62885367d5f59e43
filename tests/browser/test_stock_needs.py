"""What to buy in Chromium on a phone: worked out, ordered, sent."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from tests.browser.conftest import Site

pytestmark = pytest.mark.browser


def test_the_buy_list_becomes_an_order_with_a_thumb(
    open_page: Callable[..., Any], site: Site
) -> None:
    page = open_page("storekeeper", width=390)
    page.goto(site.url("stock/needs/"))
    page.click("text=Work it out >> nth=-1")
    page.wait_for_selector("text=What stops us first")
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    button = page.locator("button:has-text('Make an order')").first
    assert button.bounding_box()["height"] >= 48
    button.click()
    page.wait_for_selector("h2:has-text('Send it')")
    page.click("button:has-text('It is sent')")
    page.wait_for_selector("text=Receive this order")
    assert site.faults == []


def test_what_comes_and_what_a_set_costs_fit_a_phone(
    open_page: Callable[..., Any], site: Site
) -> None:
    page = open_page("storekeeper", width=390)
    for path, says in (("stock/orders/coming/", "What comes when"), ("stock/set-costs/", "USD")):
        page.goto(site.url(path))
        assert page.is_visible(f"text={says} >> nth=0")
        assert page.evaluate("document.documentElement.scrollWidth") <= 390
    page.click("main summary >> nth=0")
    page.wait_for_selector("text=In a set >> nth=0")
    assert site.faults == []
