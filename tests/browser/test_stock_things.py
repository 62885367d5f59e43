"""A stack is probed on a phone: three fields, one press, and what to do about it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from tests.browser.conftest import Site
from tests.browser.test_face import TOO_WIDE

pytestmark = pytest.mark.browser


def test_a_stack_is_probed_on_a_phone(open_page: Callable[..., Any], site: Site) -> None:
    page = open_page("storekeeper", width=390)
    page.goto(site.url("stock/straw-watch/"))
    assert page.locator("form[action$='probed/'] :is(input, select):visible").count() == 3
    page.select_option("[name=lot]", label="Flax straw, Loft, gable end")
    page.fill("[name=temperature]", "88.5")
    page.click("text=Write it down")
    assert "Below the first danger mark of 150 °F." in page.inner_text("#wb-messages")
    assert "88.5 °F" in page.inner_text("main")
    assert page.evaluate(TOO_WIDE) <= 0
    assert site.faults == []
