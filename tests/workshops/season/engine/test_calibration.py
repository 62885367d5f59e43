"""The outlook beside synthetic winters played event by event: a small rerun of the study."""

from dataclasses import replace

import numpy as np
import pytest

from inventory.engines.stop import Seconds
from tests.bench import bench_calibration as study
from tests.bench import synthetic
from tests.bench.bench_calibration import NIGHTS, Scored
from tests.workshops.season.engine.winters import whole_shop
from workshops.season.engine.params import OutlookParams
from workshops.season.engine.solve import solve


@pytest.fixture(scope="module")
def ends() -> list[Scored]:
    """What six clubs were told of the winter's end, at four moments each."""
    scored = study.study(6, draws=200, first=1000)
    return [one for one in scored if one.night == NIGHTS - 1]


def test_most_of_the_wide_bands_hold_what_came(ends: list[Scored]) -> None:
    assert len(ends) == 24
    assert study.share(ends, 95) >= 0.75
    assert study.share(ends, 50) < 0.9


def test_the_outlook_scores_better_than_a_straight_line(ends: list[Scored]) -> None:
    assert study.gain(ends) > 0.1
    assert study.gain(ends, point=True) > 0.2


def test_bands_narrow_as_the_winter_goes(ends: list[Scored]) -> None:
    widths = [np.mean([s.width(80) for s in ends if s.moment == m]) for m in study.MOMENTS]
    assert widths == sorted(widths, reverse=True)


def test_a_synthetic_winter_books_each_piece_once() -> None:
    _, now = synthetic.shops()
    dice = np.random.default_rng(5)
    seen = synthetic.play(now, synthetic.truth_of(dice), dice)
    for job in now.jobs:
        booked = [w for row in seen for w in row.past.work if w.operation == job.id]
        assert sum(w.good + w.scrapped for w in booked) == seen[-1].total[job.index]
        assert all(w.person_minutes > 0 for w in booked)


def test_a_straight_line_carries_on_and_widens() -> None:
    assert study.straight_line([2, 4, 6], 5)[0] == pytest.approx(16.0)
    near, far = (study.straight_line([0, 5, 7], ahead)[1] for ahead in (1, 4))
    assert far > 2 * near > 0


def test_a_club_near_its_target_works_on_as_fast_as_one_far_from_it() -> None:
    problem = whole_shop(nights=6)
    made = []
    for target in (1, 10):
        variants = tuple(
            replace(v, target=v.target * target, finished=v.target - 2) for v in problem.variants
        )
        asked = replace(problem, variants=variants)
        outlook = solve(asked, stop=Seconds(60), params=OutlookParams(winters=300))
        made.append(outlook.at_end.mean - asked.finished)
    assert made[0] == pytest.approx(made[1], rel=0.15)
