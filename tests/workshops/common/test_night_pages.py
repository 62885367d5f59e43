"""The strip of a night: its pages in the order of an evening, only those one may open."""

from __future__ import annotations

from datetime import date

import pytest

from workshops.common import night_pages
from workshops.common.night_pages import NightPage, add, steps

DAY = date(2026, 1, 14)
ALL = {"see_nights", "run_night"}


@pytest.fixture
def pages(monkeypatch: pytest.MonkeyPatch) -> None:
    """A strip of two pages, whatever the slices have put on the real one."""
    monkeypatch.setattr(night_pages, "PAGES", {})
    add(NightPage("Tally", "counting:tally", "run_night", 40))
    add(NightPage("Board", "nights:night", "see_nights", 20))


def test_the_strip_follows_the_evening_not_the_order_of_adding(pages: None) -> None:
    assert [step.label for step in steps("aspen", DAY, ALL, "/")] == ["Board", "Tally"]


@pytest.mark.parametrize(("below", "label"), [("", "Board"), ("tally/7/undo/", "Tally")])
def test_the_longest_address_says_where_we_stand(pages: None, below: str, label: str) -> None:
    found = steps("aspen", DAY, ALL, f"/aspen/nights/2026-01-14/{below}")
    assert [step.label for step in found if step.is_here] == [label]


def test_a_page_nobody_may_open_is_not_shown(pages: None) -> None:
    assert [step.label for step in steps("aspen", DAY, {"see_nights"}, "/")] == ["Board"]


def test_a_page_of_the_same_label_takes_the_place_of_the_first(pages: None) -> None:
    add(NightPage("Tally", "nights:roll", "run_night", 10))
    found = steps("aspen", DAY, ALL, "/")
    assert [step.url.split("/")[-2] for step in found] == ["roll", "2026-01-14"]


def test_a_page_whose_address_is_not_there_yet_is_not_shown(pages: None) -> None:
    add(NightPage("Moon", "nights:moon", "see_nights", 99))
    assert [step.label for step in steps("aspen", DAY, ALL, "/")] == ["Board", "Tally"]
