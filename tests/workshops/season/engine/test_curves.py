import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from workshops.season.engine.curves import (
    Beta,
    Gamma,
    beta_by_moments,
    wright_average_unit,
    wright_total,
    wright_unit,
)


def test_a_gamma_belief_adds_events_and_exposure():
    assert Gamma(4.0, 40.0).updated(6, 20) == Gamma(10.0, 60.0)


def test_a_beta_belief_adds_yes_and_no():
    assert Beta(2.0, 3.0).updated(4, 10) == Beta(6.0, 9.0)


@given(st.floats(0.01, 0.99), st.floats(0.5, 500))
def test_a_beta_of_mean_and_weight_has_that_mean(mean, weight):
    assert Beta.of(mean, weight).mean == pytest.approx(mean)


def test_moments_find_the_club_that_drew_the_counts():
    dice = np.random.default_rng(3)
    asked = dice.integers(5, 60, size=4_000)
    came = dice.binomial(asked, dice.beta(3.0, 5.0, size=4_000))
    found = beta_by_moments(came.tolist(), asked.tolist(), mean=0.5, weight=2.0)
    assert found.mean == pytest.approx(3 / 8, abs=0.01)
    assert found.yes + found.no == pytest.approx(8.0, rel=0.1)


def test_moments_without_counts_keep_what_was_stated():
    assert beta_by_moments([], [], mean=0.3, weight=4.0) == Beta.of(0.3, 4.0)


def test_moments_of_people_who_are_all_alike_stay_within_bounds():
    found = beta_by_moments([5] * 30, [10] * 30, mean=0.5, weight=2.0)
    assert found.yes + found.no == pytest.approx(50.0)


@given(st.lists(st.tuples(st.integers(0, 40), st.integers(0, 40)), max_size=30))
def test_moments_always_give_a_usable_belief(pairs):
    asked = [max(pair) for pair in pairs]
    came = [min(pair) for pair in pairs]
    found = beta_by_moments(came, asked, mean=0.5, weight=2.0)
    assert found.yes > 0
    assert found.no > 0
    assert 0.99 <= found.yes + found.no <= 50.01


def test_without_learning_every_piece_takes_the_same_time():
    assert wright_unit(37, 1.0) == 1.0
    assert wright_total(37, 1.0) == 37.0


@given(st.integers(1, 200), st.floats(0.6, 1.0))
def test_doubling_the_piece_number_multiplies_the_time_by_the_learning(piece, learning):
    ratio = wright_unit(2 * piece, learning) / wright_unit(piece, learning)
    assert ratio == pytest.approx(learning)


@given(st.integers(1, 100), st.floats(0.6, 1.0))
def test_the_average_model_sums_to_its_falling_mean(pieces, learning):
    total = sum(wright_average_unit(piece, learning) for piece in range(1, pieces + 1))
    assert total / pieces == pytest.approx(pieces ** math.log2(learning))
