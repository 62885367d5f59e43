"""A list brought in Chromium: chosen, looked at, written; and the face of its page on a phone."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from tests.browser.conftest import Site

pytestmark = pytest.mark.browser

LIST = b"Name,Kind,Kept at\nWhisk brush,small,Yard\nSpare whisk brush,small,Yard\n"


def test_a_list_is_chosen_looked_at_and_written(open_page: Callable[..., Any], site: Site) -> None:
    page = open_page("storekeeper", width=390)
    page.goto(site.url("stock/lists/"))
    page.select_option("[name=kind]", "items")
    page.set_input_files(
        "[name=file]", {"name": "brushes.csv", "mimeType": "text/csv", "buffer": LIST}
    )
    page.click("text=Look at its rows")
    page.wait_for_selector("text=2 new item")
    # Two columns fit a phone: nothing is pushed off the side.
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    page.click("text=Write all of it")
    assert page.is_visible("text=Written: brushes.csv. 2 × new item.")
    page.goto(site.url("stock/?q=whisk"))
    assert page.is_visible("text=Spare whisk brush")
    assert site.faults == []
