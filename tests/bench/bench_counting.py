"""The tally: from a press to the screen on a slow tablet, and two hundred presses shared.

Run by ``python3 manage.py bench counting``; never part of the ordinary tests.
"""

from __future__ import annotations

import shutil
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from statistics import median
from typing import Any

from playwright.sync_api import sync_playwright

from tests.browser import conftest as browser
from tests.browser.test_night_tally import PRESS
from workshops.home.demo.files import read

TIMES, SHARED = 30, 200
Rows = list[tuple[str, str, str]]


def run() -> Rows:
    """A tablet of a quarter of this machine's speed, on the served demo."""
    with _served() as address, sync_playwright() as playwright:
        path = next(filter(None, map(shutil.which, ("chromium", "chromium-browser"))))
        chromium = playwright.chromium.launch(executable_path=path, args=["--no-sandbox"])
        page = _tally(chromium, browser.Site(address, read("shop")["shop"]["slug"]))
        size = len(page.content()) / 1000
        page.context.set_offline(True)
        presses = [page.evaluate(PRESS, _row(page)) for _ in range(TIMES)]
        for _ in range(SHARED - TIMES):
            page.evaluate(PRESS, _row(page))
        seconds = _share(page)
        chromium.close()
    return [
        ("press to the screen, CPU slowed 4x, no network",
         f"median {median(presses):.0f} ms, most {max(presses):.0f} ms", "100 ms"),
        (f"{SHARED} presses shared when the network is back", f"{seconds:.1f} s", "5 s"),
        ("the page", f"{size:.0f} kB", "150 kB"),
    ]  # fmt: skip


@contextmanager
def _served() -> Iterator[str]:
    class Factory:
        def mktemp(self, name: str) -> Path:
            return Path(folder)

    with tempfile.TemporaryDirectory() as folder:
        yield from browser.served.__wrapped__(Factory())  # type: ignore[attr-defined]


def _tally(chromium: Any, site: browser.Site) -> Any:
    page = chromium.new_context(viewport={"width": 820, "height": 1180}).new_page()
    browser._sign_in(page, site, "coordinator")
    page.goto(site.url(f"nights/{date.today().isoformat()}/tally/"))
    page.wait_for_selector(".wb-tally--live")
    session = page.context.new_cdp_session(page)
    session.send("Emulation.setCPUThrottlingRate", {"rate": 4})
    return page


def _row(page: Any) -> Any:
    return page.locator("[data-operation]").nth(1).element_handle()


def _share(page: Any) -> float:
    """From the network's return to the words that everything is shared."""
    page.context.set_offline(False)
    began = time.perf_counter()
    while page.inner_text("#wb-share-state") != "All counts are shared.":
        page.wait_for_timeout(20)
    return time.perf_counter() - began
