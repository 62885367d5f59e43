"""The tap "not coming" in real Chromium; how long it takes is measured by the bench."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from tests.browser.conftest import Site

pytestmark = pytest.mark.browser


def test_a_tap_shows_what_changed_and_is_taken_back(site: Site, open_page: Callable[..., Any]):
    page = open_page("duty_lead", width=820)
    page.goto(site.url(f"nights/{date.today()}/"))
    page.get_by_role("button", name="Place").first.click()
    page.wait_for_url("**/nights/**", timeout=20_000)
    page.goto(site.url(f"nights/{date.today()}/tonight/"))
    button = page.get_by_role("button", name="is not coming").last
    assert button.bounding_box()["height"] >= 48
    button.click()
    page.wait_for_selector("h1:has-text('is not coming')")
    assert page.locator(".wb-sets").is_visible()
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    page.get_by_role("button", name="comes after all").click()
    page.wait_for_selector("h1:has-text('comes after all')")
    assert site.faults == []


def test_on_a_phone_without_scripts_a_gap_tells_its_cost(site: Site, open_page: Callable[..., Any]):
    page = open_page("duty_lead", width=390, java_script_enabled=False)
    page.goto(site.url(f"nights/{date.today()}/tonight/"))
    page.click("text=What does it cost?")
    assert "What does it cost that" in page.locator("h1").inner_text()
