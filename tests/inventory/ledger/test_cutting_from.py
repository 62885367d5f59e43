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


def test_a_stick_is_sawn_before_a_piece_that_was_cut_ahead_for_another_part() -> None:
    lying = [("r", 36, 2), ("r", 100, 1)]
    taken = cut_from(SAW, [34], lying, spare="r", cut_ahead=[34, 36])
    assert taken.sticks == Counter({("r", 100): 1})


def test_what_was_begun_is_cut_further_before_another_parts_piece() -> None:
    """The first 34 leaves 65 of the stick, which fits worse than a 36 cut ahead."""
    lying = [("r", 36, 2), ("r", 100, 1)]
    taken = cut_from(SAW, [34, 34], lying, spare="r", cut_ahead=[34, 36])
    assert taken.sticks == Counter({("r", 100): 1})


def test_with_no_stick_left_another_parts_piece_is_sawn_up_and_not_called_missing() -> None:
    taken = cut_from(SAW, [34], [("r", 36, 2)], spare="r", cut_ahead=[34, 36])
    assert taken.sticks == Counter({("r", 36): 1})
    assert not taken.missing


def test_its_own_pieces_are_taken_as_they_lie_before_anything_else() -> None:
    taken = cut_from(SAW, [34], [("r", 34, 1), ("r", 100, 1)], spare="r", cut_ahead=[34])
    assert taken.sticks == Counter({("r", 34): 1})
    assert not taken.drops + taken.scrap


def test_sticks_bought_at_the_length_of_a_part_stay_sticks() -> None:
    lying = [("r", 100, 1), ("r", 120, 1)]
    taken = cut_from(SAW, [34], lying, spare="r", cut_ahead=[34, 100])
    assert taken.sticks == Counter({("r", 100): 1})


@given(
    pieces=st.lists(st.integers(1, 120), max_size=12),
    lying=st.lists(st.tuples(st.just("r"), st.integers(1, 140), st.integers(0, 3)), max_size=6),
    ahead=st.sets(st.integers(1, 140), max_size=4),
)
def test_metal_never_appears_from_nowhere(
    pieces: list[int], lying: list[tuple[str, int, int]], ahead: set[int]
) -> None:
    taken = cut_from(SAW, pieces, lying, spare="r", cut_ahead=ahead)
    out = sum(length * n for (_, length), n in taken.sticks.items())
    out += sum(length * n for length, n in taken.missing.items())
    back = sum(length * n for (_, length), n in taken.drops.items())
    back += sum(length * n for length, n in taken.scrap.items())
    assert 0 <= out - back - sum(pieces) <= len(pieces) * SAW.kerf_um
    booked = Counter[tuple[str, int]]()
    for place, length, count in lying:
        booked[place, length] += count
    assert taken.sticks <= booked
