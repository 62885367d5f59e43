"""A storekeeper at the truck with a phone: four things booked in with few touches."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import pytest

from tests.browser.conftest import Site

pytestmark = pytest.mark.browser

PHONE = {"width": 390, "height": 844}
# Item as typed, its whole name, count, what the row proposes for its length, what is measured.
TRUCK = (
    ("post", "Post tube 1 3/4 in", "6", "288 in", {"wall": ".109 in"}),
    ("welded w", "Welded wire, 32 in wide", "1", "1200 in", {"wire": ".08 in"}),
    ("flax", "Flax straw", "36", "", {"moisture": "15"}),
    ("hog", "Hog rings", "500", "", {}),
)
# A slow hand in gloves: to reach a button or a box, and to hit one key.
TAP_SECONDS, KEY_SECONDS = 1.2, 0.28


@dataclass
class Hand:
    """Taps and keys of one person, counted."""

    page: Any
    taps: int = 0
    keys: int = 0

    def tap(self, where: str) -> None:
        """Touch something."""
        self.page.tap(where)
        self.taps += 1

    def write(self, name: str, text: str) -> None:
        """Touch a box and type into it."""
        self.tap(f"[name={name}]")
        self.page.fill(f"[name={name}]", text)
        self.keys += len(text)

    @property
    def seconds(self) -> float:
        """How long a slow hand takes for it."""
        return self.taps * TAP_SECONDS + self.keys * KEY_SECONDS


def put_down(hand: Hand, row: int, typed: str, count: str, measured: dict[str, str]) -> None:
    """One row: a part of the name, the count, and what was measured."""
    if not hand.page.query_selector(f"#r{row}"):
        hand.tap("button[name=more]")
        hand.page.wait_for_selector(f"#r{row}")
    hand.write(f"r{row}-item", typed)
    hand.page.wait_for_selector(f"#r{row}-asks:has-text('put at')")
    hand.write(f"r{row}-quantity", count)
    if measured:
        hand.tap(f"#r{row}-asks summary")
    for name, text in measured.items():
        hand.write(f"r{row}-{name}", text)


def test_four_things_are_booked_in_on_a_phone_in_under_a_minute(
    open_page: Callable[..., Any], site: Site
) -> None:
    page = open_page("storekeeper", width=PHONE["width"], has_touch=True, is_mobile=True)
    page.set_viewport_size(PHONE)
    page.goto(site.url("stock/goods-in/"))
    hand = Hand(page)
    hand.write("source", "Lundgaard Tube")
    for row, (typed, _, count, length, measured) in enumerate(TRUCK):
        put_down(hand, row, typed, count, measured)
        if length:
            assert page.input_value(f"[name=r{row}-length]") == length
    page.wait_for_selector("#r1-judged:has-text('fits')")
    hand.tap("form#goods-in button.wb-button--big")
    page.wait_for_url(re.compile(r"/stock/deliveries/\d+/"))
    for _, name, count, _, _ in TRUCK:
        heading = page.locator("h2", has_text=name).inner_text()
        assert heading.startswith(count)
    assert hand.taps <= 20
    assert hand.seconds < 60
    assert site.faults == []


def test_every_target_of_the_form_is_large_and_nothing_runs_off_the_phone(
    open_page: Callable[..., Any], site: Site
) -> None:
    page = open_page("storekeeper", width=PHONE["width"], has_touch=True)
    page.goto(site.url("stock/goods-in/"))
    page.evaluate("document.querySelectorAll('details').forEach(each => each.open = true)")
    small = page.eval_on_selector_all(
        "#goods-in :is(input:not([type=hidden], [type=radio], [type=checkbox]), select, summary,"
        " button:not([tabindex]), label.wb-chip, a.wb-chip)",
        "all => all.filter(e => e.getBoundingClientRect().height < 48)"
        ".map(e => e.name || e.innerText)",
    )
    assert small == []
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]


def test_without_scripts_rows_are_added_and_what_does_not_fit_is_held(
    open_page: Callable[..., Any], site: Site
) -> None:
    page = open_page("storekeeper", width=PHONE["width"], java_script_enabled=False)
    page.goto(site.url("stock/goods-in/"))
    page.fill("[name=source]", "Vessby ranch")
    page.check("[name=came][value=given]")
    page.click("button[name=more]")
    assert page.input_value("[name=source]") == "Vessby ranch"
    typed = {"item": "nest hay", "quantity": "30", "moisture": "26"}
    page.click("#r4 summary")
    for name, text in typed.items():
        page.fill(f"[name=r4-{name}]", text)
    page.click("form#goods-in button.wb-button--big")
    page.check("[name=r4-then][value=hold]")
    page.click("form#goods-in button.wb-button--big")
    page.wait_for_url(re.compile(r"/stock/deliveries/\d+/"))
    assert "came on hold" in page.inner_text("main")
