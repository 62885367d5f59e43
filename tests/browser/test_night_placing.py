"""Moving people on the board in real Chromium: dragged, tapped, by keys, and taken back."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date
from typing import Any

import pytest

from tests.browser.conftest import Site
from tests.browser.test_face import SMALL, TOO_WIDE
from workshops.home.demo.days import Days

pytestmark = pytest.mark.browser

Open = Callable[..., Any]
IDLE = ".wb-idle td >> nth=0 >> .wb-seat[data-person] >> nth=0"
TAG = 'tr:has(th:has-text("Tag and count")) td >> nth=0'


@pytest.fixture
def board(open_page: Open, site: Site) -> Callable[..., Any]:
    """The board of the next night, where nobody is placed yet, in a window of some width."""

    next_week = Days(date.today(), UTC).night({"week": 1})  # type: ignore[arg-type]

    def opened(**how: Any) -> Any:
        page = open_page("coordinator", **how)
        page.goto(site.url(f"nights/{next_week}/"))
        return page

    return opened


def said(page: Any, words: str) -> None:
    """Wait until the live region says it."""
    page.wait_for_function(
        "words => document.getElementById('said').textContent.includes(words)", arg=words
    )


def seats(page: Any) -> list[str]:
    return [name.strip() for name in page.locator(f"{TAG} >> .wb-seat > span").all_inner_texts()]


def test_somebody_is_dragged_and_the_step_is_taken_back(
    board: Callable[..., Any], site: Site
) -> None:
    page = board()
    name = page.inner_text(IDLE).strip()
    page.hover(IDLE)
    page.mouse.down()
    page.mouse.move(400, 300, steps=3)
    page.wait_for_selector(".wb-drop")
    page.locator(TAG).scroll_into_view_if_needed()
    box = page.locator(TAG).bounding_box()
    page.mouse.move(box["x"] + 20, box["y"] + 10, steps=4)
    page.mouse.up()
    said(page, f"{name} is at Tag and count")
    assert name in seats(page)
    page.click("text=Take back")
    said(page, "Taken back.")
    assert name not in seats(page)
    assert site.faults == []


def test_keys_pick_up_choose_and_put_down(board: Callable[..., Any], site: Site) -> None:
    page = board()
    name = page.inner_text(IDLE).strip()
    page.focus(IDLE)
    page.keyboard.press("Enter")
    said(page, "is picked up")
    page.keyboard.press("Escape")
    said(page, f"{name} was put back.")
    assert page.evaluate("document.activeElement.textContent.trim()") == name
    page.keyboard.press("Enter")
    said(page, "is picked up")
    for _ in range(20):
        if "Tag and count" in page.evaluate("document.activeElement.getAttribute('aria-label')"):
            break
        page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    said(page, f"{name} is at Tag and count")
    page.click("text=Take back")
    said(page, "Taken back.")
    assert site.faults == []


def test_a_tap_a_tap_on_a_phone_and_a_refusal_says_why(
    board: Callable[..., Any], site: Site
) -> None:
    page = board(width=390, has_touch=True)
    name = page.inner_text(IDLE).strip()
    page.tap(IDLE)
    page.wait_for_selector(".wb-drop")
    assert page.evaluate(TOO_WIDE) <= 0
    assert page.evaluate(SMALL) == []
    page.tap(f"{TAG} >> .wb-drop")
    said(page, f"{name} is at Tag and count")
    page.tap("text=Take back")
    said(page, "Taken back.")
    page.tap(IDLE)
    page.wait_for_selector("#pick-page")
    page.tap("#pick-page")
    assert "Not here, and why" in page.inner_text("main")
    assert site.faults == []
