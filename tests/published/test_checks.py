"""What a sample of pieces says of all the others, as the page of a check tells it."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest
from scipy import stats

from inventory.measures.shares import wilson
from tests.factories import make_night, make_operation, make_station
from workshops.quality.models import Check
from workshops.quality.queries import share_of
from workshops.stations.models import Operation

pytestmark = pytest.mark.django_db


@pytest.fixture
def operation(shop: Any, clock: Any) -> Operation:
    """Something that is checked tonight."""
    make_night(shop)
    return make_operation(make_station(shop))


def told(operation: Operation, looked_at: int, bad: int) -> tuple[int, int]:
    """The bounds that the page tells, in hundredths, after so many pieces were looked at."""
    night = operation.shop.night_set.get()
    for number in range(looked_at):
        Check.objects.create(
            shop=night.shop, night=night, operation=operation, kind="nth", is_good=number >= bad,
            words="bent", checked_by="Ada",
        )  # fmt: skip
    share = share_of(operation, "nth", night.changed_at + timedelta(hours=1))
    assert share
    return share.low, share.high


@pytest.mark.parametrize(
    ("looked_at", "bad", "low", "high"),
    [(263, 81, 0.2553, 0.3662), (148, 15, 0.0624, 0.1605), (20, 0, 0.0, 0.1611),
     (29, 1, 0.0061, 0.1718)],
)  # fmt: skip
def test_the_page_tells_the_score_interval_of_the_pieces_looked_at(
    operation: Operation, looked_at: int, bad: int, low: float, high: float
) -> None:
    """Newcombe 1998, Statistics in Medicine 17:857, Table I, method 3, as often quoted."""
    assert told(operation, looked_at, bad) == (round(100 * low), round(100 * high))


def test_of_twenty_without_a_bad_one_up_to_sixteen_in_a_hundred_may_be_bad(
    operation: Operation,
) -> None:
    """Newcombe 1998, Table I, method 3: nought of twenty, upper bound .1611; never "none"."""
    assert told(operation, 20, 0) == (0, 16)


@pytest.mark.parametrize(("bad", "looked_at"), [(0, 20), (3, 50), (5, 10), (12, 12)])
def test_the_interval_is_that_of_a_reference_library(bad: int, looked_at: int) -> None:
    """SciPy, scipy.stats.binomtest(...).proportion_ci(method="wilson")."""
    ours = wilson(bad, looked_at)
    theirs = stats.binomtest(bad, looked_at).proportion_ci(0.95, method="wilson")
    assert ours == pytest.approx((theirs.low, theirs.high), abs=1e-9)
