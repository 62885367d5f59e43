"""The face where it is used: phone, tablet and laptop, gloves, no scripts, paper."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from tests.browser.conftest import Site
from workshops.access.permissions import Permission
from workshops.common.rooms import doors

pytestmark = pytest.mark.browser

Open = Callable[..., Any]

# Everything that can be pressed and is not part of a sentence, with its size.
SMALL = """() => [...document.querySelectorAll(
    'main button, main .wb-button, main select, main input:not([type=hidden]), nav a, nav summary')]
  .filter(e => e.checkVisibility())
  .map(e => [e.closest('label.wb-chip, .form-check') || e, e])
  .map(([box, e]) => [box.getBoundingClientRect(), e])
  .filter(([r]) => r.height < 47.5 || r.width < 24)
  .map(([r, e]) => `${e.tagName} ${e.textContent.trim().slice(0, 30)} ${e.name || ''} ` +
                   `${Math.round(r.width)}x${Math.round(r.height)}`)"""
TOO_WIDE = "() => document.documentElement.scrollWidth - document.documentElement.clientWidth"


def rooms(site: Site) -> list[str]:
    return [site.address + door.url for door in doors(site.slug, set(Permission), "")]


@pytest.mark.parametrize("width", [390, 820, 1366])
def test_the_rooms_fit_the_screen_and_the_glove(width: int, open_page: Open, site: Site) -> None:
    page = open_page(width=width)
    found = []
    for url in rooms(site):
        page.goto(url)
        found += [f"{url}: {small}" for small in page.evaluate(SMALL)]
        if (wider := page.evaluate(TOO_WIDE)) > 0:
            found.append(f"{url}: {wider} px wider than the screen")
    assert found + site.faults == []


def test_the_rooms_open_on_a_phone_without_scripts(open_page: Open, site: Site) -> None:
    page = open_page(width=390, java_script_enabled=False)
    page.goto(rooms(site)[0])
    page.click(".wb-more summary")
    page.click(".wb-more details a >> nth=-1")
    assert page.url == rooms(site)[-1]


def test_the_first_press_of_tab_offers_to_skip_to_the_page(open_page: Open, site: Site) -> None:
    page = open_page()
    page.goto(rooms(site)[0])
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "Skip to the page itself"
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "main"


def test_paper_shows_the_page_and_not_the_rooms(open_page: Open, site: Site) -> None:
    page = open_page()
    page.goto(rooms(site)[0])
    page.emulate_media(media="print")
    assert not page.is_visible(".wb-rooms")
    assert page.is_visible("h1")


def test_a_silent_network_is_told_instead_of_losing_a_press(open_page: Open, site: Site) -> None:
    page = open_page()
    page.goto(site.url("jobs/"))
    page.context.set_offline(True)
    page.evaluate("htmx.ajax('GET', location.href, '#main').catch(() => null)")
    page.wait_for_selector("#wb-messages .wb-note--error")
    assert "Nothing was saved" in page.inner_text("#wb-messages")
