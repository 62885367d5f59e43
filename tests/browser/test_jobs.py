"""A job as people meet it: pressed, watched while the thread of the site runs it, gone on from."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from tests.browser.conftest import Site

pytestmark = pytest.mark.browser


def test_the_outlook_is_worked_out_in_the_background_and_leads_back(
    open_page: Callable[..., Any], site: Site
) -> None:
    page = open_page(width=820)
    page.goto(site.url("winter/"))
    page.click("text=Work it out")
    page.wait_for_url("**/jobs/*/")
    # The job's page asks every second, and moves on by itself when the job is done.
    page.wait_for_url(site.url("winter/") + "*", timeout=60_000)
    assert page.is_visible("main svg, main img")
    assert site.faults == []


def test_without_scripts_the_page_of_a_job_asks_again_by_itself(
    open_page: Callable[..., Any], site: Site
) -> None:
    page = open_page(width=820, java_script_enabled=False)
    page.goto(site.url("winter/"))
    page.click("text=Work it out")
    page.wait_for_url("**/jobs/*/")
    page.wait_for_selector("text=Go on", timeout=60_000)
    assert page.is_visible("text=Go on")
    assert site.faults == []
