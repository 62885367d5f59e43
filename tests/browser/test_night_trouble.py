"""An injury told on a phone within a minute of a slow hand, and a bad piece held and sorted."""

from __future__ import annotations

import time
from collections.abc import Callable
from datetime import date
from typing import Any
from uuid import uuid4

import pytest

from tests.browser.conftest import Site
from tests.browser.test_people import KEY_SECONDS, PHONE, TAP_SECONDS

pytestmark = pytest.mark.browser

Open = Callable[..., Any]
MINUTE = 60.0
LOOK_SECONDS = 3.0  # to find the next thing on the page, frightened


def test_an_injury_is_told_in_a_minute_and_its_station_is_closed(
    site: Site, open_page: Open
) -> None:
    page = open_page("duty_lead", width=PHONE["width"])
    page.set_viewport_size(PHONE)
    page.goto(site.url(f"nights/{date.today()}/"))
    taps, line = 0, "cut hand"

    def tap(selector: str) -> None:
        nonlocal taps
        page.click(selector)
        taps += 1

    began = time.perf_counter()
    tap("nav >> text=Trouble")
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    tap(".wb-pick:has-text('Somebody hurt')")
    tap(".wb-pick:has-text('Abrasive saw')")
    tap("#what")
    page.fill("#what", line)
    tap("text=Write it down now")
    page.wait_for_selector("text=Abrasive saw is closed for every plan")
    machine = time.perf_counter() - began
    hand = taps * (TAP_SECONDS + LOOK_SECONDS) + len(line) * KEY_SECONDS
    assert (taps, len(line)) == (5, 8)
    assert hand + machine < MINUTE
    assert site.faults == []
    reopen(page, site)


def reopen(page: Any, site: Site) -> None:
    """Other tests find the station as it was."""
    page.goto(site.url(f"nights/{date.today()}/trouble/"))
    form = "form[action*='/reopen/']"
    if page.locator(f"{form} [name=lead]").count():
        page.select_option(f"{form} [name=lead]", index=1)
    page.fill(f"{form} [name=why]", "guard is back on")
    page.click(f"{form} button")
    page.wait_for_selector("text=is open again.")


def count_three(page: Any, site: Site) -> str:
    """Three of something counted good tonight; the number of its operation."""
    page.goto(site.url(f"nights/{date.today()}/tally/"))
    token = page.evaluate("document.querySelector('[name=csrfmiddlewaretoken]').value")
    operation = str(page.locator("[name=operation]").last.get_attribute("value"))
    page.request.post(
        page.url, headers={"Referer": page.url},
        form={"csrfmiddlewaretoken": token, "operation": operation, "good": "3",
              "client_key": str(uuid4())},
    )  # fmt: skip
    return operation


def test_a_bad_piece_holds_its_batch_which_is_sorted(site: Site, open_page: Open) -> None:
    page = open_page("duty_lead", width=820)
    operation = count_three(page, site)
    page.goto(site.url(f"nights/{date.today()}/checks/{operation}/"))
    page.fill("#words", "bent")
    page.click("button[value=bad]")
    page.wait_for_selector("h1:has-text('How are the 3 on hold sorted?')")
    page.fill("[name=good]", "2")
    page.fill("[name=rework]", "1")
    page.click("text=Write down, of 3")
    page.wait_for_selector("h1:has-text('1 are being mended')")
    page.click("text=Check a mended one")
    page.click("button[value=good]")
    page.goto(site.url(f"nights/{date.today()}/checks/"))
    page.click("a:has-text('3 ')  >> nth=0")
    page.fill("[name=good]", "1")
    page.click("text=Write down, of 1")
    page.wait_for_selector("h1:has-text('All of them are sorted')")
    assert site.faults == []
