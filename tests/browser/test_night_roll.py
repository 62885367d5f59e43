"""The roll and the flow board on a tablet, with the network and without."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from tests.browser.conftest import Site

pytestmark = pytest.mark.browser


def address(site: Site, page: str) -> str:
    return site.url(f"nights/{date.today().isoformat()}/{page}")


def test_in_by_the_first_letters_and_on_the_evacuation_list_with_the_network_cut(
    site: Site, open_page: Callable[..., Any]
):
    page = open_page("duty_lead", width=820)
    page.goto(address(site, "roll/evacuation/"))
    page.evaluate("navigator.serviceWorker.ready")
    page.goto(address(site, "roll/"))
    first = page.locator("#wb-in button").first
    name = first.inner_text()
    page.fill("#id_q", name[:3])
    page.locator("#wb-found button").first.wait_for()
    before = page.locator("#wb-inside [data-in]").count()
    page.locator("#wb-found button").first.click()
    page.locator("[data-count]", has_text=f"{before + 1} in now").wait_for()
    page.reload()
    page.wait_for_load_state("networkidle")
    page.context.set_offline(True)
    other = page.locator("#wb-in button").first
    kept = other.inner_text()
    other.click()
    page.locator("#wb-kept-taps", has_text=f"{kept} in ").wait_for()
    page.goto(address(site, "roll/evacuation/"))
    page.locator("#wb-muster li", has_text=kept).locator("input").check()
    assert f"{before + 2} in, 1 seen, {before + 1} missing" in page.inner_text("#wb-count")
    page.reload()
    assert "1 seen" in page.inner_text("#wb-count")
    page.context.set_offline(False)
    page.locator("#wb-kept-taps").wait_for(state="hidden")
    page.goto(address(site, "roll/"))
    assert page.locator("#wb-inside li:not(.wb-kept-in)", has_text=kept).count() == 1
    # Cutting the network is what the console tells of.
    assert [fault for fault in site.faults if "ERR_INTERNET_DISCONNECTED" not in fault] == []


@pytest.mark.parametrize(("width", "height"), [(1366, 768), (820, 1180)])
def test_the_flow_board_is_read_without_scrolling(
    width: int, height: int, site: Site, open_page: Callable[..., Any]
):
    page = open_page("duty_lead", width=width)
    page.set_viewport_size({"width": width, "height": height})
    page.goto(address(site, "flow/"))
    page.wait_for_load_state("networkidle")
    board = page.locator("#wb-flow").bounding_box()
    assert board
    assert board["y"] + board["height"] <= height
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert site.faults == []
