"""A person is erased on a phone: seen first, asked for the name, gone from the list."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from tests.browser.conftest import Site

pytestmark = pytest.mark.browser


def add(page: Any, site: Site, first: str, last: str) -> str:
    """Put somebody on the list; gives the address of their page."""
    page.goto(site.url("people/add/"))
    page.fill("[name=first_name]", first)
    page.fill("[name=last_name]", last)
    page.fill("[name=email]", "orla@example.org")
    page.click("main form button[type=submit]")
    page.wait_for_selector(f"text={first} {last} is on the list.")
    return str(page.url)


def test_somebody_is_told_everything_and_erased_on_a_phone(
    site: Site, open_page: Callable[..., Any]
):
    page = open_page("coordinator", width=390, java_script_enabled=False)
    address = add(page, site, "Orla", "Kestrelman")
    page.goto(f"{address}everything/")
    assert "orla@example.org" in page.inner_text("main")
    with page.expect_download() as coming:
        page.click("text=Take it along as a file")
    assert coming.value.suggested_filename.endswith(".json")
    page.goto(f"{address}erase/")
    page.fill("[name=name]", "orla kestrelman")
    page.click("text=Erase for good")
    assert "Erased person" in page.inner_text("main h1")
    page.goto(site.url("people/?q=Kestrelman"))
    assert "Kestrelman" not in page.inner_text("main .wb-list, main table, main .wb-empty")


def test_the_pages_of_an_erase_fit_a_phone(site: Site, open_page: Callable[..., Any]):
    page = open_page("coordinator", width=390)
    page.goto(site.url("people/1/everything/"))
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    page.goto(site.url("people/5/erase/"))
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert site.faults == []
