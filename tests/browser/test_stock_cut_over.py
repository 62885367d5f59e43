"""A revision comes into force in the browser, and leads to what lies by the one before."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from tests.browser.conftest import Site
from tests.browser.test_face import TOO_WIDE

pytestmark = pytest.mark.browser


def test_a_new_revision_leads_to_the_parts_of_the_old(
    open_page: Callable[..., Any], site: Site
) -> None:
    page = open_page(width=820)
    page.goto(site.url("build-sheets/"))
    page.click("main li:has-text('QM-31') a")
    page.click("text=New revision")
    page.click("main button:has-text('Put in force')")
    page.click("text=What becomes of the parts made to the old one?")
    assert "made before QM-31 rev B" in page.inner_text("h1")
    assert "In numbers nothing" in page.inner_text("main")
    assert page.evaluate(TOO_WIDE) <= 0
    assert site.faults == []
