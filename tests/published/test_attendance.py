"""The chance that somebody comes, as the outlook learns it, against published figures."""

from __future__ import annotations

import pytest
from scipy import stats

from workshops.season.engine.facts import Person
from workshops.season.engine.learn import turnout_of
from workshops.season.engine.params import OutlookParams
from workshops.season.engine.score import wilson

SHARES = [
    (81, 263, 0.2553, 0.3662),
    (15, 148, 0.0624, 0.1605),
    (0, 20, 0.0, 0.1611),
    (1, 29, 0.0061, 0.1718),
]


def chance(came: int, asked: int):
    """What the outlook believes of somebody expected so often who came so often."""
    person = Person(id="1", title="Somebody", asked=asked, came=came)
    return turnout_of([person], OutlookParams())["1"].unasked


def test_a_persons_attendance_is_learned_as_the_textbook_learns_a_share():
    """Gelman et al., Bayesian Data Analysis, 3rd ed., section 2.4: 437 of 980; from memory."""
    learned = chance(437, 980)
    assert learned.mean == pytest.approx(0.446, abs=0.0005)
    assert learned.sd == pytest.approx(0.016, abs=0.0005)
    ends = stats.beta(learned.yes, learned.no).ppf([0.025, 0.975])
    assert ends == pytest.approx([0.415, 0.477], abs=0.0005)


@pytest.mark.parametrize(("came", "asked", "low", "high"), SHARES)
def test_the_chance_learned_lies_in_the_score_interval_of_the_counts(came, asked, low, high):
    """Newcombe 1998, Statistics in Medicine 17:857, Table I, method 3, as often quoted."""
    assert wilson(came, asked) == pytest.approx((low, high), abs=5e-5)
    assert low <= chance(came, asked).mean <= high


def test_somebody_who_never_came_is_not_given_up_for_ever():
    """Newcombe 1998, Table I, method 3: nought of twenty reaches from nought, never below it."""
    assert 0 < chance(0, 20).mean < wilson(0, 20)[1]
    assert wilson(0, 20)[0] == 0
