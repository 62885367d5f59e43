"""Sorting what was held: the counts always come to what was held, and the book follows."""

from __future__ import annotations

from random import Random
from uuid import uuid4

import pytest

from workshops.quality.actions import CheckRefused
from workshops.quality.models import Check
from workshops.quality.sorting import standing_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def held(bench):
    """Thirty posts on hold."""
    bench.count(30, "19:00")
    return bench.check(False, "19:10").held.get()


def test_good_ones_go_back_scrap_leaves_and_rework_stays_on_hold(bench, held) -> None:
    bench.sort(held, good=12, rework=10, scrap=8)
    assert bench.there(held.item) == (12, 10)
    standing = standing_of(held)
    assert (standing.left, standing.in_rework, standing.good, standing.scrap) == (0, 10, 12, 8)


def test_some_may_be_sorted_now_and_the_rest_later(bench, held) -> None:
    bench.sort(held, good=5)
    assert standing_of(held).left == 25
    bench.sort(held, scrap=25)
    assert standing_of(held).is_done


def test_never_more_than_is_left(bench, held) -> None:
    bench.sort(held, good=20)
    with pytest.raises(CheckRefused, match="11 are more than the 10 still to sort"):
        bench.sort(held, scrap=11)


def test_mended_pieces_go_back_only_after_a_good_check(bench, held) -> None:
    bench.sort(held, rework=10)
    with pytest.raises(CheckRefused, match="after a good check"):
        bench.sort(held, good=10, from_rework=True)
    bad = bench.check(False, "20:05", kind=Check.Kind.REWORK)
    with pytest.raises(CheckRefused, match="after a good check"):
        bench.sort(held, good=10, from_rework=True, after=bad)
    seen = bench.check(True, "20:10", kind=Check.Kind.REWORK)
    bench.sort(held, good=9, scrap=1, from_rework=True, after=seen)
    assert bench.there(held.item) == (9, 20)
    assert standing_of(held).in_rework == 0


def test_a_check_after_rework_is_no_check_of_what_is_made(bench, held) -> None:
    bench.count(4, "19:20")
    bench.check(True, "19:30", kind=Check.Kind.REWORK)
    assert bench.check(False, "19:40").held.get().suspected == 4


def test_what_cannot_be_mended_is_scrap_without_a_check(bench, held) -> None:
    bench.sort(held, rework=3)
    bench.sort(held, scrap=3, from_rework=True)
    assert bench.there(held.item) == (0, 27)


def test_sent_twice_it_is_sorted_once(bench, held) -> None:
    key = uuid4()
    first = bench.sort(held, good=7, client_key=key)
    assert bench.sort(held, good=7, client_key=key) == first
    assert bench.there(held.item) == (7, 23)


@pytest.mark.parametrize(
    "fields",
    [{}, {"good": -1, "scrap": 2}, {"good": 1, "sorted_by": " "},
     {"rework": 1, "from_rework": True}],
)  # fmt: skip
def test_half_a_sorting_is_refused(bench, held, fields) -> None:
    with pytest.raises(CheckRefused):
        bench.sort(held, **fields)


@pytest.mark.parametrize("seed", range(6))
def test_the_sum_is_always_what_was_held(bench, held, seed) -> None:
    draw, seen = Random(seed), bench.check(True, "19:15", kind=Check.Kind.REWORK)
    for _ in range(12):
        counts = {name: draw.randint(0, 6) for name in ("good", "rework", "scrap")}
        try:
            bench.sort(held, from_rework=draw.random() < 0.4, after=seen, **counts)
        except CheckRefused:
            continue
    now = standing_of(held)
    assert now.left + now.in_rework + now.good + now.scrap == held.held == 30
    assert min(now.left, now.in_rework, now.good, now.scrap) >= 0
    assert bench.there(held.item) == (now.good, now.left + now.in_rework)
