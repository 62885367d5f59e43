"""What is left on a roll."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.measures.lengths import feet, inches
from inventory.measures.rolls import left_on_roll_um, turn_of_mesh_um


def test_twice_the_thickness_is_half_the_length():
    sizes = inches(4), inches(20)
    assert abs(left_on_roll_um(*sizes, inches(1)) - 2 * left_on_roll_um(*sizes, inches(2))) <= 1


def test_a_begun_roll_has_less_than_a_full_one():
    full, begun = (left_on_roll_um(inches(6), inches(d), 4_064) for d in (16, 11))
    assert feet(20) < begun < full < feet(120)


def test_mesh_is_two_wires_thick_where_they_cross():
    assert turn_of_mesh_um(2_032) == 4_064


@pytest.mark.parametrize("sizes", [(10, 10, 1), (0, 10, 1), (5, 10, 0), (10, 5, 1)])
def test_what_cannot_be_wound_is_refused(sizes):
    with pytest.raises(ValueError, match="larger outside"):
        left_on_roll_um(*sizes)


@given(st.integers(1, 500_000), st.integers(1, 500_000), st.integers(1, 50_000))
def test_wire_is_only_ever_added_by_a_larger_roll(core, more, thickness):
    assert left_on_roll_um(core, core + more, thickness) >= 0
    larger = left_on_roll_um(core, core + more + 1_000, thickness)
    assert larger >= left_on_roll_um(core, core + more, thickness)
