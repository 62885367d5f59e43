"""Totals and patterns against plain enumeration."""

from __future__ import annotations

from itertools import product

import numpy as np
from hypothesis import given
from hypothesis import strategies as some

from inventory.cutting.engine.patterns import REACHED, Totals

SIZES = some.lists(some.integers(1, 12), min_size=1, max_size=4, unique=True)


def every_pattern(sizes: list[int], most: list[int], room: int) -> list[tuple[int, ...]]:
    """All counts whose total the room holds."""
    return [
        counts
        for counts in product(*(range(n + 1) for n in most))
        if sum(size * n for size, n in zip(sizes, counts, strict=True)) <= room
    ]


def total(sizes: list[int], counts: tuple[int, ...]) -> int:
    return sum(size * n for size, n in zip(sizes, counts, strict=True))


def exact(sizes: list[int], most: list[int], room: int) -> Totals:
    totals = Totals(tuple(sizes), tuple(most), room, grid=1, up=True)
    assert totals.reach(10_000)
    return totals


def test_totals_of_5_and_3_within_11():
    """0 3 5 6 8 9? Three at most twice: 0 3 5 6 8 10 11, and 9 is out of reach."""
    assert exact([5, 3], [2, 2], 11).values.tolist() == [0, 3, 5, 6, 8, 10, 11]


@given(SIZES, some.integers(1, 40), some.data())
def test_totals_are_those_of_all_patterns(sizes, room, data):
    most = [data.draw(some.integers(0, 3)) for _ in sizes]
    expected = sorted({total(sizes, c) for c in every_pattern(sizes, most, room)})
    assert exact(sizes, most, room).values.tolist() == expected


@given(SIZES, some.integers(1, 40), some.data())
def test_each_total_has_its_best_value_and_the_pattern_behind_it(sizes, room, data):
    most = [data.draw(some.integers(0, 3)) for _ in sizes]
    prices = [data.draw(some.integers(0, 20)) for _ in sizes]
    totals = exact(sizes, most, room)
    layers = totals.layers(prices)
    for at, value in enumerate(totals.values.tolist()):
        counts = totals.trace(layers, prices, at)
        reached = [c for c in every_pattern(sizes, most, room) if total(sizes, c) == value]
        assert counts in reached
        assert total(prices, counts) == layers[-1][at] == max(total(prices, c) for c in reached)


@given(SIZES, some.integers(1, 40), some.integers(0, 60), some.data())
def test_every_pattern_worth_enough_is_listed_and_no_other(sizes, room, goal, data):
    most = [data.draw(some.integers(0, 3)) for _ in sizes]
    prices = [data.draw(some.integers(0, 20)) for _ in sizes]
    totals = exact(sizes, most, room)
    least = np.full(len(totals.values), goal, dtype=np.int64)
    listed = totals.all_worth(totals.layers(prices), prices, least=least, limit=10_000)
    assert listed is not None
    worth = {c for c in every_pattern(sizes, most, room) if total(prices, c) >= goal}
    assert sorted(map(tuple, listed.tolist())) == sorted(worth)


def test_too_many_patterns_are_not_listed():
    totals = exact([1, 2, 3], [5, 5, 5], 30)
    least = np.zeros(len(totals.values), dtype=np.int64)
    assert totals.all_worth(totals.layers([1, 1, 1]), [1, 1, 1], least=least, limit=50) is None


def test_too_many_totals_are_given_up():
    totals = Totals((7, 11, 13), (9, 9, 9), 100, grid=1, up=True)
    assert not totals.reach(10)


@given(SIZES, some.integers(5, 60), some.integers(2, 7))
def test_rounded_up_every_pattern_fits_and_rounded_down_none_is_overlooked(sizes, room, grid):
    most = [3] * len(sizes)
    up, down = (Totals(tuple(sizes), tuple(most), room, grid=grid, up=way) for way in (True, False))
    assert up.reach(1_000)
    assert down.reach(1_000)
    fitting = set(every_pattern(sizes, most, room))
    for totals, is_up in ((up, True), (down, False)):
        prices = [1] * len(sizes)
        least = np.full(len(totals.values), REACHED, dtype=np.int64)
        rows = totals.all_worth(totals.layers(prices), prices, least=least, limit=10_000)
        assert rows is not None
        found = {tuple(row) for row in rows.tolist()}
        assert found <= fitting if is_up else found >= fitting
