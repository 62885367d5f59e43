"""The door to HiGHS: small programmes with known answers, against SciPy, and no noise."""

from __future__ import annotations

import math
import subprocess
import sys

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as some
from scipy.optimize import Bounds, LinearConstraint, milp

from inventory.engines.milp import Programme, Status
from inventory.engines.stop import Seconds
from tests.examples import examples

SOON = Seconds(10)


def bag(*, integer: bool) -> Programme:
    """Worth 60, 100, 120 at weights 10, 20, 30, room for 50: the usual first example."""
    programme = Programme(maximise=True)
    weights = (10, 20, 30)
    columns = [programme.column(w, upper=1, integer=integer) for w in (60, 100, 120)]
    programme.row(dict(zip(columns, weights, strict=True)), upper=50)
    return programme


def test_whole_numbers_take_the_second_and_the_third():
    found = bag(integer=True).solve(SOON)
    assert found.status is Status.BEST
    assert found.has_values()
    assert found.objective == pytest.approx(220)
    assert found.values.round().tolist() == [0, 1, 1]


def test_fractions_take_two_thirds_of_the_third_and_price_the_room():
    """60 + 100 + 2/3 of 120; one more unit of room is worth 120 / 30 = 4."""
    found = bag(integer=False).solve(SOON)
    assert found.objective == pytest.approx(240)
    assert found.values.tolist() == pytest.approx([1, 1, 2 / 3])
    assert found.row_duals.tolist() == pytest.approx([4])
    assert found.bound == pytest.approx(240)


def test_no_solution_is_said():
    programme = Programme()
    x = programme.binary(1.0)
    programme.row({x: 1.0}, lower=2)
    found = programme.solve(SOON)
    assert found.status is Status.INFEASIBLE
    assert not found.has_values()
    assert len(found.values) == 0
    assert math.isnan(found.objective)


def test_no_end_is_said():
    programme = Programme(maximise=True)
    x = programme.column(1.0)
    programme.row({x: 1.0}, lower=0)
    assert programme.solve(SOON).status in (Status.UNBOUNDED, Status.INFEASIBLE)


def test_bounds_of_a_column_hold():
    programme = Programme()
    programme.column(1.0, lower=3, upper=5)
    programme.column(-1.0, lower=3, upper=5)
    assert programme.solve(SOON).values.tolist() == [3, 5]


def test_a_programme_can_be_solved_again_after_another_row():
    programme = Programme(maximise=True)
    x = programme.column(1.0, upper=10, integer=True)
    assert programme.solve(SOON).objective == pytest.approx(10)
    programme.row({x: 2.0}, upper=9)
    assert programme.solve(SOON).objective == pytest.approx(4)


@given(some.data(), some.integers(1, 4), some.integers(1, 4))
@examples(60)
def test_integer_programmes_cost_what_scipy_says(data, columns, rows):
    number = some.integers(0, 9)
    cost = [data.draw(number) for _ in range(columns)]
    table = [[data.draw(number) for _ in range(columns)] for _ in range(rows)]
    need = [data.draw(number) for _ in range(rows)]
    programme = Programme()
    names = [programme.column(c, upper=9, integer=True) for c in cost]
    for row, least in zip(table, need, strict=True):
        terms = {name: float(c) for name, c in zip(names, row, strict=True) if c}
        programme.row(terms, lower=least)
    found = programme.solve(SOON)
    other = milp(
        cost, constraints=LinearConstraint(np.array(table), need, np.inf),
        integrality=np.ones(columns), bounds=Bounds(0, 9),
    )  # fmt: skip
    assert found.has_values() == (other.status == 0)
    if found.has_values():
        assert found.objective == pytest.approx(other.fun)


def test_nothing_is_printed_where_json_may_follow():
    """A fresh process, since the greeting comes with the first solver only."""
    code = (
        "from inventory.engines.milp import Programme\n"
        "from inventory.engines.stop import Seconds\n"
        "p = Programme(); p.column(1.0, lower=1); p.solve(Seconds(5)); print('{}')"
    )
    shown = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert (shown.stdout, shown.stderr) == ("{}\n", "")
