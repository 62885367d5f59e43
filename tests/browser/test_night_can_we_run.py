"""The tap "not coming" in real Chromium; how long it takes is measured by the bench."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from tests.browser.conftest import Site

pytestmark = pytest.mark.browser


def test_a_tap_shows_what_changed_and_is_taken_back_and_a_gap_tells_its_cost(
    site: Site, open_page: Callable[..., Any]
):
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
    page.goto(site.url(f"nights/{date.today()}/tonight/"))
    # What a gap costs comes by itself, once the page is there.
    page.wait_for_function("!document.querySelector('.wb-cost a')")
    assert "Costs the winter" in page.locator(".wb-cost").first.inner_text()
    assert site.faults == []


def test_on_a_phone_without_scripts_the_gaps_and_the_tap_are_there(
    site: Site, open_page: Callable[..., Any]
):
    page = open_page("duty_lead", width=390, java_script_enabled=False)
    page.goto(site.url(f"nights/{date.today()}/tonight/"))
    page.click("text=What does it cost?")
    assert "What does it cost that" in page.locator("h1").inner_text()
    page.go_back()
    page.get_by_role("button", name="is not coming").first.click()
    assert "is not coming" in page.locator("h1").inner_text()
    page.get_by_role("button", name="comes after all").click()
    assert "comes after all" in page.locator("h1").inner_text()
