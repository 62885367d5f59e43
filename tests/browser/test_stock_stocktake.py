"""A place counted with gloves on a tablet: big boxes, kept as they are typed."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from tests.browser.conftest import Site
from tests.browser.test_face import SMALL, TOO_WIDE

pytestmark = pytest.mark.browser


def test_a_count_is_kept_while_it_is_typed(open_page: Callable[..., Any], site: Site) -> None:
    page = open_page("storekeeper", width=820)
    page.goto(site.url("stock/stocktakes/"))
    page.click("main a.wb-night >> nth=0")
    page.click("text=Head shelves")
    page.click("main a.wb-button:has-text('Count') >> nth=0")
    assert page.evaluate(SMALL) == []
    assert page.evaluate(TOO_WIDE) <= 0
    box = page.locator("main input[inputmode=numeric]:visible >> nth=0")
    assert box.input_value() == ""
    box.fill("7")
    page.click("main label.wb-chip >> nth=1")
    page.wait_for_selector("#kept:has-text('2 of')")
    page.reload()
    assert page.locator("main input[inputmode=numeric] >> nth=0").input_value() == "7"
    assert page.locator("main input[type=checkbox] >> nth=1").is_checked()
    assert site.faults == []
