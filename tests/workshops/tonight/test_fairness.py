"""Whose turn it is to be asked."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import pairwise

from workshops.tonight.fairness import Load

NOW = datetime(2026, 1, 14, 17, 40, tzinfo=UTC)
WEEK = timedelta(weeks=1)


def test_who_was_asked_lately_is_asked_later():
    lately, long_ago = Load(asked_at=(NOW - WEEK,)), Load(asked_at=(NOW - 8 * WEEK,))
    assert Load().turn(NOW) < long_ago.turn(NOW) < lately.turn(NOW)


def test_who_works_every_night_is_asked_later():
    assert Load(worked=1, held=10).turn(NOW) < Load(worked=9, held=10).turn(NOW)


def test_who_says_yes_is_asked_before_who_never_can():
    asked = (NOW - 4 * WEEK, NOW - 6 * WEEK)
    willing = Load(asked_at=asked, replies=2, said_yes=2)
    assert willing.turn(NOW) < Load(asked_at=asked, replies=2).turn(NOW)


def test_three_who_always_come_are_asked_in_turns():
    loads = {name: Load() for name in ("Ada", "Bo", "Cy")}
    asked = []
    for week in range(12):
        now = NOW + week * WEEK
        name = min(loads, key=lambda each: (loads[each].turn(now), each))
        asked.append(name)
        was = loads[name]
        loads[name] = replace(
            was, asked_at=(*was.asked_at, now), replies=was.replies + 1, said_yes=was.said_yes + 1
        )
    assert all(first != then for first, then in pairwise(asked))
    assert {asked.count(name) for name in loads} == {4}


def test_a_load_is_told_in_words():
    load = Load((NOW - 3 * WEEK, NOW - 5 * WEEK), replies=2, said_yes=1, worked=3, held=10)
    assert load.told(NOW) == (
        "asked twice, last 3 weeks ago, said yes once; worked 3 of 10 nights this winter"
    )
    assert Load().told(NOW) == "not asked yet this winter"


def test_a_heavy_load_takes_some_nights_to_tell():
    assert not Load(worked=3, held=3).is_heavy
    assert Load(worked=9, held=10).is_heavy
    assert not Load(worked=6, held=10).is_heavy
