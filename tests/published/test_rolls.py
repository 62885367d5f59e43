"""Spirals and wound rolls against closed forms and hand-worked lengths."""

from __future__ import annotations

import math

import pytest
from scipy.integrate import quad

from inventory.measures.lengths import feet, inches
from inventory.measures.rolls import left_on_roll_um
from workshops.stations.geometry.roll import archimedean_arc, spiral_um


def test_one_turn_of_the_unit_spiral_is_21_2563_long():
    """Calculus: s = (b / 2)(theta sqrt(1 + theta^2) + asinh theta), b = 1, theta = 2 pi."""
    assert archimedean_arc(1, 2 * math.pi) == pytest.approx(21.2563, abs=5e-5)


def test_the_closed_form_equals_quadrature():
    """Calculus, against numerical integration by scipy's QUADPACK."""
    by_area, _ = quad(lambda angle: 0.3 * math.hypot(1, angle), 0, 17)
    assert archimedean_arc(0.3, 17) == pytest.approx(by_area, rel=1e-12)


def test_a_16_in_roll_on_a_12_in_core_of_2_in_turns_is_43_982_in():
    """L = pi (D^2 - d^2) / 4t, a roll formula of the trade; worked by hand: 14 pi."""
    length = left_on_roll_um(inches(12), inches(16), inches(2))
    assert length == pytest.approx(14 * math.pi * 25_400, abs=1)
    assert length == pytest.approx(inches("43.982"), abs=inches("0.0005"))


def test_its_exact_spiral_is_44_028_in():
    """Calculus: the spiral between the same radii."""
    assert spiral_um(inches(12), inches(16), inches(2)) == pytest.approx(
        inches("44.028"), abs=inches("0.0005")
    )


def test_a_20_in_roll_on_a_4_in_core_of_quarter_inch_turns_is_100_53_ft():
    """L = pi (D^2 - d^2) / 4t, a roll formula of the trade."""
    assert left_on_roll_um(inches(4), inches(20), inches("1/4")) == pytest.approx(
        feet("100.53"), abs=feet("0.005")
    )


def test_its_exact_spiral_is_100_534_ft():
    """Calculus: the spiral between the same radii."""
    assert spiral_um(inches(4), inches(20), inches("1/4")) == pytest.approx(
        feet("100.534"), abs=feet("0.0005")
    )


@pytest.mark.parametrize("turns", [2, 5, 32])
def test_the_formula_is_within_a_thousandth_from_two_turns_on(turns):
    """Calculus: the roll formula against the exact spiral on a 12 in core."""
    sizes = (inches(12), inches(12) + 2 * turns * inches(1), inches(1))
    assert left_on_roll_um(*sizes) == pytest.approx(spiral_um(*sizes), rel=1e-3)
