"""Each random step against the mean and variance it has on paper."""

import numpy as np
import pytest
from scipy import stats

from workshops.season.engine import trials
from workshops.season.engine.curves import Beta, Gamma

SIZE = 60_000


@pytest.fixture
def stream():
    return np.random.Generator(np.random.SFC64(12))


def assert_moments(drawn: np.ndarray, mean: float, variance: float) -> None:
    """Within five standard errors of the mean, and 5 % of the variance."""
    values = drawn.astype(float)
    assert abs(values.mean() - mean) < 5 * (variance / values.size) ** 0.5
    assert values.var() == pytest.approx(variance, rel=0.05)


def test_a_share_has_the_moments_of_its_beta(stream):
    belief = Beta(3.0, 7.0)
    assert_moments(trials.draw_share(stream, belief, SIZE), 0.3, 0.3 * 0.7 / 11)


def test_a_rate_has_the_moments_of_its_gamma(stream):
    drawn = trials.draw_rate(stream, Gamma(9.0, 45.0), SIZE)
    assert_moments(drawn, 9 / 45, 9 / 45**2)


def test_a_swing_has_mean_one_and_its_spread(stream):
    assert_moments(trials.draw_swing(stream, 0.25, SIZE), 1.0, 0.25**2)


def test_a_swing_without_spread_is_exactly_one(stream):
    assert (trials.draw_swing(stream, 0.0, 50) == 1.0).all()


def test_what_happens_does_so_at_its_chance(stream):
    assert_moments(trials.draw_happens(stream, 0.06, SIZE), 0.06, 0.06 * 0.94)


def test_coming_over_many_nights_is_beta_binomial(stream):
    """Nights are counted per winter, the chance drawn once: variance beyond the binomial."""
    chance = trials.draw_share(stream, Beta(2.0, 3.0), SIZE)
    came = sum(trials.draw_happens(stream, chance, SIZE).astype(int) for _ in range(12))
    reference = stats.betabinom(12, 2.0, 3.0)
    assert_moments(came, reference.mean(), reference.var())


def test_a_thing_sure_to_happen_always_does(stream):
    assert trials.draw_happens(stream, 1.0, SIZE).all()
    assert not trials.draw_happens(stream, 0.0, SIZE).any()


def test_a_day_is_drawn_by_its_weight(stream):
    drawn = trials.draw_day(stream, np.array([1.0, 3.0, 0.0, 6.0]), SIZE)
    shares = np.bincount(drawn, minlength=4) / SIZE
    assert shares == pytest.approx([0.1, 0.3, 0.0, 0.6], abs=0.01)


def test_every_step_gives_the_small_kind_of_number(stream):
    assert trials.draw_share(stream, Beta(2, 2), 5).dtype == np.float32
    assert trials.draw_rate(stream, Gamma(2, 2), 5).dtype == np.float32
    assert trials.draw_swing(stream, 0.2, 5).dtype == np.float32
