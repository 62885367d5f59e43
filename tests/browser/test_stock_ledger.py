"""The item page asks by itself where the pieces came from, and follows to the delivery."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from tests.browser.conftest import Site

pytestmark = pytest.mark.browser


def test_an_item_tells_where_it_came_from(open_page: Callable[..., Any], site: Site) -> None:
    page = open_page(width=390)
    page.goto(site.url("stock/items/post-short/"))
    page.wait_for_selector("#came ~ div li a")
    card = page.locator("section", has=page.locator("#came"))
    assert "made, " in card.inner_text()
    card.locator("small a").first.click()
    page.wait_for_selector("h1")
    assert "What was written in this entry?" in page.inner_text("h1")
