"""At the saw, in real Chromium on a phone: tick a stick, take it back."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from tests.browser.conftest import Site
from tests.browser.test_face import SMALL, TOO_WIDE

pytestmark = pytest.mark.browser

Open = Callable[..., Any]


def test_a_stick_is_ticked_and_taken_back_on_a_phone(open_page: Open, site: Site) -> None:
    page = open_page("storekeeper", width=390)
    page.goto(site.url("stock/cut-lists/"))
    page.click("main .wb-list a >> text=Leg tube >> nth=0")
    before = page.inner_text(".wb-progress strong")
    page.click("text=Cut one >> nth=0")
    assert page.inner_text(".wb-progress strong") != before
    assert page.evaluate("location.hash").startswith("#p")
    page.click("text=Take back >> nth=0")
    assert page.inner_text(".wb-progress strong") == before
    assert page.evaluate(SMALL) == []
    assert page.evaluate(TOO_WIDE) <= 0
    assert site.faults == []
