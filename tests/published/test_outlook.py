"""The outlook's formulas and its event-by-event twin against handbooks and papers."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import stats

from tests.bench import queues
from workshops.season.engine.curves import (
    Beta,
    Gamma,
    wright_average_unit,
    wright_total,
    wright_unit,
)
from workshops.season.engine.score import crps, crps_gaussian, wilson


def test_a_death_rate_of_three_in_two_hundred_thousand():
    """Gelman et al., Bayesian Data Analysis, 3rd ed., section 2.6; from memory."""
    posterior = Gamma(3.0, 5.0).updated(3, 2.0)
    assert posterior == Gamma(6.0, 7.0)
    assert posterior.mean == pytest.approx(0.86, abs=0.005)


def test_a_death_rate_after_ten_years():
    """Gelman et al., Bayesian Data Analysis, 3rd ed., section 2.6; from memory."""
    posterior = Gamma(3.0, 5.0).updated(30, 20.0)
    assert posterior == Gamma(33.0, 25.0)
    assert posterior.mean == pytest.approx(1.32, abs=0.005)


def test_the_share_of_girl_births_in_placenta_previa():
    """Gelman et al., Bayesian Data Analysis, 3rd ed., section 2.4; from memory."""
    posterior = Beta(1.0, 1.0).updated(437, 980)
    assert posterior == Beta(438.0, 544.0)
    assert posterior.mean == pytest.approx(0.446, abs=0.0005)
    assert posterior.sd == pytest.approx(0.016, abs=0.0005)
    ends = stats.beta(posterior.yes, posterior.no).ppf([0.025, 0.975])
    assert ends == pytest.approx([0.415, 0.477], abs=0.0005)


@pytest.mark.parametrize(
    ("yes", "cases", "low", "high"),
    [
        (81, 263, 0.2553, 0.3662),
        (15, 148, 0.0624, 0.1605),
        (0, 20, 0.0, 0.1611),
        (1, 29, 0.0061, 0.1718),
    ],
)
def test_score_intervals_for_a_share(yes, cases, low, high):
    """Newcombe 1998, Statistics in Medicine 17:857, Table I, method 3, as often quoted."""
    assert wilson(yes, cases) == pytest.approx((low, high), abs=5e-5)


@pytest.mark.parametrize(("outcome", "score"), [(0, 0.2336950), (1, 0.602441), (2, 1.452792)])
def test_the_ranked_score_of_a_standard_normal_forecast(outcome, score):
    """Gneiting et al. 2005, Monthly Weather Review 133:1098, equation 5."""
    assert crps_gaussian(0.0, 1.0, outcome) == pytest.approx(score, abs=1e-6)


def test_the_ranked_score_at_the_mean_has_a_closed_form():
    """Gneiting et al. 2005, equation 5 at z = 0: (sqrt 2 - 1) / sqrt pi."""
    exact = (math.sqrt(2) - 1) / math.sqrt(math.pi)
    assert crps_gaussian(5.0, 3.0, 5.0) == pytest.approx(3.0 * exact)


def test_the_ranked_score_of_winters_tends_to_that_of_the_normal_they_came_from():
    """The same equation against 99 999 evenly spaced quantiles of the normal."""
    winters = stats.norm.ppf(np.arange(1, 100_000) / 100_000)
    assert crps(winters, 1.0) == pytest.approx(0.602441, abs=2e-4)


@pytest.mark.parametrize(
    ("piece", "unit", "total"),
    [
        (2, 0.800, 1.800), (3, 0.702, 2.502), (4, 0.640, 3.142), (5, 0.596, 3.738),
        (8, 0.512, 5.346), (10, 0.477, 6.315), (20, 0.381, 10.485), (25, 0.355, 12.309),
        (30, 0.335, 14.020), (40, 0.305, 17.193), (50, 0.284, 20.122), (100, 0.227, 32.651),
    ],
)  # fmt: skip
def test_learning_coefficients_of_the_unit_model(piece, unit, total):
    """Heizer & Render, Operations Management, module E, 80 % table; from memory.

    This is the model that the outlook uses: the time of one piece falls.
    """
    assert wright_unit(piece, 0.8) == pytest.approx(unit, abs=6e-4)
    assert wright_total(piece, 0.8) == pytest.approx(total, abs=1e-3)


def test_the_average_model_is_another_one():
    """Wideman, maxwideman.com, appendix 2 on learning curves: 80 %, cumulative average.

    There the *mean* of the first two is 0.80, so the second takes 0.60 and not 0.80.
    """
    assert wright_average_unit(2, 0.8) == pytest.approx(0.60)
    assert sum(wright_average_unit(piece, 0.8) for piece in (1, 2, 3, 4)) / 4 == pytest.approx(0.64)
    assert wright_unit(2, 0.8) == pytest.approx(0.80)


@pytest.mark.parametrize(
    ("between", "pace", "share"), [(0, 1.0, 2 / 3), (1, 1.0, 3 / 4), (0, 1.5, 0.78947)]
)
def test_two_stations_with_few_places_between_them_lose_the_share_that_hunt_found(
    between, pace, share
):
    """Hunt 1956, Operations Research 4:674-683: exponential times, blocking; from memory.

    A rack limit of B + 1 in the event-by-event winter is B places and the blocked bench.
    """
    assert queues.two_stations(between, pace, pieces=10_000) == pytest.approx(share, rel=0.02)


@pytest.mark.parametrize(
    ("benches", "per_bench", "waiting"),
    [
        (1, 2 / 3, 4 / 3),  # Hillier & Lieberman ch. 17, hospital, one doctor; from memory
        (2, 1 / 3, 1 / 12),  # the same with two doctors; from memory
        (3, 300 * 2 / 365 / 3, 0.352),  # Bronson 1982, example 24.6
    ],
)
def test_work_waiting_before_benches_is_what_the_queueing_tables_say(benches, per_bench, waiting):
    """M/M/s, mean number waiting; sources beside the rows."""
    seen = queues.one_station(benches, per_bench, pieces=15_000)
    assert seen.waiting == pytest.approx(waiting, rel=0.1)


def test_pieces_there_are_the_rate_times_the_time_each_stays():
    """Little's law; Bronson 1982, exercise 23.3: 24 an hour, 30 served, 1/6 h each, 4 there."""
    seen = queues.one_station(1, 24 / 30, pieces=30_000)
    assert seen.there == pytest.approx(seen.rate * seen.stay, rel=1e-6)
    assert seen.there == pytest.approx(4, rel=0.15)
    assert seen.stay == pytest.approx(30 / 6, rel=0.15)  # services of one minute: 1/6 h is 5
