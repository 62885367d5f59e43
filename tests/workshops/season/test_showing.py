"""A stored outlook, read back for a page."""

from __future__ import annotations

import re
from datetime import date

import pytest

from workshops.season import actions, showing
from workshops.season.models import OutlookRun

pytestmark = pytest.mark.usefixtures("material")

TODAY = date(2026, 1, 14)


@pytest.fixture
def run(season) -> OutlookRun:
    season.want(new=400)
    return actions.work_out_outlook(winter=season.winter, today=TODAY, by=None, winters=100)


def test_the_stored_outlook_is_the_one_that_was_worked_out(run) -> None:
    assert showing.stored(run).to_json() == run.result


def test_a_phone_gets_a_narrow_picture_with_ids_of_its_own(run) -> None:
    outlook = showing.stored(run)
    wide, phone = showing.drawn(outlook), showing.drawn(outlook, for_phone=True)
    assert 'viewBox="0 0 960 ' in wide
    assert 'viewBox="0 0 400 ' in phone
    assert "winter-small" in phone
    assert "winter-small" not in wide


def test_the_two_pictures_of_the_page_share_no_id(run) -> None:
    outlook = showing.stored(run)
    wide, phone = (
        set(re.findall(r'id="([^"]+)"', showing.drawn(outlook, for_phone=small)))
        for small in (False, True)
    )
    assert wide
    assert not wide & phone
    used = set(re.findall(r"url\(#([^)]+)\)", showing.drawn(outlook, for_phone=True)))
    assert used
    assert used <= phone


def test_nights_have_days(run) -> None:
    rows = showing.night_rows(showing.stored(run))
    assert [row.day for row in rows] == [TODAY, date(2026, 1, 21)]


def test_what_is_counted_on_is_told_with_its_day_and_what_is_not(run) -> None:
    told = showing.counted_on(run)
    assert told[0].startswith("That what is missing is ordered now and comes in time:")
    assert told[0].endswith("Rings and Tube by Wed 21 Jan.")
    assert "Straw" not in told[0]


def test_with_enough_of_everything_nothing_is_counted_on(season) -> None:
    season.want(new=1, replacements=0, spares=0)
    run = actions.work_out_outlook(winter=season.winter, today=TODAY, by=None, winters=100)
    assert showing.counted_on(run) == []


def test_gaps_and_assumptions_are_told_apart_from_the_words(run) -> None:
    outlook = showing.stored(run)
    words = showing.words(outlook)
    assert words[0] == outlook.explain()[0]
    assert not set(words) & set(outlook.gaps)
    assert not [each for each in words if each.startswith("Assumed")]
