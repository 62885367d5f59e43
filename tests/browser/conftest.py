"""Real Chromium on the demo winter, served as a club serves it: in a process of its own."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any
from urllib.parse import urlsplit
from urllib.request import urlopen

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from tests.migrated import copy_migrated
from tests.services.conftest import free_port, missing, wait_until
from tests.services.site import ROOT, environment, manage
from workshops.home.demo.files import read
from workshops.home.demo.people import DEMO_PASSWORD, sign_ins


@dataclass
class Site:
    """The demo served at an address, and what went wrong while a test used it."""

    address: str
    slug: str
    faults: list[str] = field(default_factory=list)

    def url(self, path: str) -> str:
        """The whole address of a page of the shop."""
        return f"{self.address}/{self.slug}/{path}"


# Of the package and not of the session: Playwright's event loop runs in this thread, and Django
# refuses its database to all tests that come while it does.
@pytest.fixture(scope="package")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of a site of its own, with the demo winter loaded once for all tests."""
    database = tmp_path_factory.mktemp("site") / "site.sqlite3"
    variables = {"DATABASE_URL": copy_migrated(database)}
    manage("load_demo", **variables)
    port = free_port()
    run = [sys.executable, "manage.py", "serve", "--port", str(port)]
    server = subprocess.Popen(
        run, cwd=ROOT, env=environment(**variables),
        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
    )  # fmt: skip
    try:
        address = f"http://127.0.0.1:{port}"
        wait_until(lambda: urlopen(f"{address}/sign-in/").close())
        yield address
    finally:
        server.terminate()
        server.wait(10)


@pytest.fixture(scope="package")
def chromium() -> Iterator[Browser]:
    """The machine's own Chromium; nothing is downloaded."""
    names = ("chromium", "chromium-browser", "google-chrome")
    path = next((found for name in names if (found := shutil.which(name))), None)
    if path is None:
        missing("Chromium", "chromium")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=["--no-sandbox"])
        yield browser
        browser.close()


@pytest.fixture
def site(served: str) -> Site:
    """The demo winter, with a night today, and no faults yet."""
    return Site(served, read("shop")["shop"]["slug"])


@pytest.fixture
def open_page(chromium: Browser, site: Site) -> Iterator[Callable[..., Page]]:
    """A window of some width in which a role has signed in; notes what it should not do."""
    opened = []

    def open_as(role: str = "coordinator", *, width: int = 1366, **options: Any) -> Page:
        context = chromium.new_context(viewport={"width": width, "height": 900}, **options)
        opened.append(context)
        page = context.new_page()
        page.on("request", lambda asked: _note_host(site, asked.url))
        page.on("pageerror", lambda error: site.faults.append(f"script: {error}"))
        page.on("console", lambda said: _note_console(site, said))
        _sign_in(page, site, role)
        return page

    yield open_as
    for context in opened:
        context.close()


def _sign_in(page: Page, site: Site, role: str) -> None:
    username = next(name for name, its_role in sign_ins() if its_role == role)
    page.goto(f"{site.address}/sign-in/")
    page.fill("[name=username]", username)
    page.fill("[name=password]", DEMO_PASSWORD)
    page.click("main button[type=submit]")


def _note_host(site: Site, url: str) -> None:
    if urlsplit(url).scheme != "data" and not url.startswith(site.address):
        site.faults.append(f"asked another host: {url}")


def _note_console(site: Site, said: Any) -> None:
    if said.type == "error":
        site.faults.append(f"console: {said.text}")
