"""Which stick a piece comes from, worked out by hand in whole numbers."""

from __future__ import annotations

from collections import Counter

from hypothesis import given
from hypothesis import strategies as st

from inventory.ledger.cutting_from import Saw, cut_from

SAW = Saw(kerf_um=1, trim_um=0, keep_um=10, bought_um=100)


def test_the_shortest_stick_that_fits_is_cut() -> None:
    taken = cut_from(SAW, [30], [("rack", 100, 1), ("rack", 35, 1), ("rack", 29, 4)], spare="rack")
    assert taken.sticks == Counter({("rack", 35): 1})
    assert taken.scrap == Counter({4: 1})


def test_the_remnant_gives_the_next_piece() -> None:
    taken = cut_from(SAW, [30, 30, 30], [("rack", 100, 2)], spare="rack")
    # 100 - 3 x (30 + 1) = 7, below the 10 worth keeping
    assert taken.sticks == Counter({("rack", 100): 1})
    assert taken.scrap == Counter({7: 1})


def test_the_last_cut_needs_no_kerf_when_the_piece_ends_the_stick() -> None:
    taken = cut_from(SAW, [50, 49], [("rack", 100, 1)], spare="rack")
    assert taken.sticks == Counter({("rack", 100): 1})
    assert not taken.drops + taken.scrap


def test_a_bought_stick_loses_its_trim_at_both_ends_and_a_drop_at_one() -> None:
    saw = Saw(kerf_um=1, trim_um=5, keep_um=1, bought_um=100)
    assert cut_from(saw, [91], [("r", 100, 1)], spare="r").missing
    assert not cut_from(saw, [90], [("r", 100, 1)], spare="r").missing
    assert not cut_from(saw, [85], [("r", 90, 1)], spare="r").missing


def test_a_piece_that_fits_nowhere_is_cut_from_a_stick_nobody_booked() -> None:
    taken = cut_from(SAW, [30], [("rack", 20, 3)], spare="floor")
    assert taken.missing == Counter({100: 1})
    assert taken.drops == Counter({("floor", 69): 1})


def test_a_piece_longer_than_any_bought_stick_still_gets_one() -> None:
    assert cut_from(SAW, [150], [], spare="floor").missing == Counter({150: 1})


@given(
    pieces=st.lists(st.integers(1, 120), max_size=12),
    lying=st.lists(st.tuples(st.just("r"), st.integers(1, 140), st.integers(0, 3)), max_size=6),
)
def test_metal_never_appears_from_nowhere(
    pieces: list[int], lying: list[tuple[str, int, int]]
) -> None:
    taken = cut_from(SAW, pieces, lying, spare="r")
    out = sum(length * n for (_, length), n in taken.sticks.items())
    out += sum(length * n for length, n in taken.missing.items())
    back = sum(length * n for (_, length), n in taken.drops.items())
    back += sum(length * n for length, n in taken.scrap.items())
    assert 0 <= out - back - sum(pieces) <= len(pieces) * SAW.kerf_um
    booked = Counter[tuple[str, int]]()
    for place, length, count in lying:
        booked[place, length] += count
    assert taken.sticks <= booked
