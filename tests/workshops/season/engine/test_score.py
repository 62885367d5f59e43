import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, stats

from workshops.season.engine.score import brier, crps, crps_gaussian, wilson


@given(st.integers(0, 300), st.integers(1, 300))
def test_wilson_agrees_with_the_reference_library(yes, more):
    cases = yes + more
    low, high = wilson(yes, cases)
    reference = stats.binomtest(yes, cases).proportion_ci(method="wilson")
    assert (low, high) == pytest.approx((reference.low, reference.high), abs=1e-12)


def test_no_cases_leave_everything_open():
    assert wilson(0, 0) == (0.0, 1.0)


def test_more_yes_than_cases_is_refused():
    with pytest.raises(ValueError, match=r"yes must be from 0 to cases \(3\)"):
        wilson(4, 3)


def test_the_score_of_one_forecast_is_its_distance():
    assert crps(np.array([12.0]), 15.0) == 3.0


def test_the_score_of_a_forecast_that_is_always_right_is_nought():
    assert crps(np.full(50, 7), 7) == 0.0


@given(st.lists(st.integers(0, 30), min_size=1, max_size=12), st.integers(-5, 35))
def test_the_score_is_the_area_between_the_steps(forecast, outcome):
    def square(x: float) -> float:
        return (np.mean(np.array(forecast) <= x) - (outcome <= x)) ** 2

    area = sum(square(x) for x in range(-6, 36))  # steps change at whole numbers only
    assert crps(np.array(forecast), outcome) == pytest.approx(area, abs=1e-9)


def test_the_gaussian_score_is_the_integral_it_stands_for():
    def square(x: float) -> float:
        return (stats.norm.cdf(x, 3.0, 2.0) - (x >= 4.2)) ** 2

    area = integrate.quad(square, -30, 40, points=[4.2])[0]
    assert crps_gaussian(3.0, 2.0, 4.2) == pytest.approx(area, abs=1e-6)


def test_many_normal_forecasts_score_like_the_closed_form():
    forecast = np.random.default_rng(2).normal(3.0, 2.0, 40_000)
    assert crps(forecast, 4.2) == pytest.approx(crps_gaussian(3.0, 2.0, 4.2), rel=0.01)


def test_an_empty_forecast_is_refused():
    with pytest.raises(ValueError, match="at least one"):
        crps(np.array([]), 1.0)


def test_a_sure_and_right_chance_scores_nought_and_a_sure_and_wrong_one_scores_one():
    assert brier(1.0, True) == 0.0
    assert brier(1.0, False) == 1.0
