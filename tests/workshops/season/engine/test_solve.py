import time
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from inventory.engines.stop import Seconds
from tests.bench.bench_outlook import pair
from tests.examples import examples
from tests.workshops.season.engine.winters import CERTAIN, bare, night, person, whole_shop
from workshops.season.engine import learn, shop
from workshops.season.engine.params import OutlookParams
from workshops.season.engine.plan import Outlook
from workshops.season.engine.problem import IceOut, Problem, ReadyBy, Variant
from workshops.season.engine.solve import solve

LONG = Seconds(60)
FEW = OutlookParams(winters=1_000, batch=250)


def outlook_of(problem: Problem, params: OutlookParams = FEW, seed: int = 7) -> Outlook:
    return solve(problem, stop=LONG, seed=seed, params=params)


def same(first: Outlook, second: Outlook) -> bool:
    return replace(first, seconds=0.0) == replace(second, seconds=0.0)


@pytest.fixture(scope="module")
def whole():
    return outlook_of(whole_shop())


def test_a_winter_without_nights_is_over_and_says_so():
    outlook = outlook_of(bare(nights=()))
    assert outlook.is_legal()
    assert outlook.nights == ()
    assert outlook.chance_of_target.share == 0.0
    assert outlook.explain()[0] == "No nights are left, and 100 of 100 sets are not made."


def test_a_club_without_people_makes_nothing():
    outlook = outlook_of(bare(people=()))
    assert outlook.at_end.high_95 == 0


def test_a_sure_winter_finishes_on_the_night_that_paper_says():
    """Twelve pegs a night: thirty are there on the third night, not the second."""
    nights = tuple(night(n) for n in range(4))
    target = (Variant("set", "set", {"peg": 1}, target=30),)
    outlook = outlook_of(bare(nights=nights, variants=target), CERTAIN)
    assert outlook.median_finish == nights[2].date
    assert outlook.finish[nights[2].date] == 1.0
    assert [each.chance_of_target.share for each in outlook.nights] == [0.0, 0.0, 1.0, 1.0]
    assert outlook.chance_of_target.share == 1.0


def test_a_target_already_reached_is_certain():
    made = (Variant("set", "set", {"peg": 1}, target=10, finished=10),)
    outlook = outlook_of(bare(variants=made, ready_by=ReadyBy("2026-11-01", "2026-11-02")))
    assert outlook.chance_of_target.share == 1.0
    assert [entry.chance.share for entry in outlook.by_date] == [1.0, 1.0]


def test_ready_by_counts_the_nights_up_to_and_on_the_day():
    nights = tuple(night(n) for n in range(3))
    target = (Variant("set", "set", {"peg": 1}, target=20),)
    ready = ReadyBy(nights[0].date, nights[1].date)
    outlook = outlook_of(bare(nights=nights, variants=target, ready_by=ready), CERTAIN)
    assert [entry.chance.share for entry in outlook.by_date] == [0.0, 1.0]


def test_the_ice_is_met_by_its_weights():
    nights = tuple(night(n) for n in range(3))
    target = (Variant("set", "set", {"peg": 1}, target=20),)
    ice = (IceOut(nights[1].date, 1.0), IceOut("2027-02-01", 3.0))
    many = replace(CERTAIN, winters=4_000)
    outlook = outlook_of(bare(nights=nights, variants=target, ice=ice), many)
    assert outlook.before_ice is not None
    assert outlook.before_ice.share == pytest.approx(0.75, abs=0.03)


def test_a_whole_shop_gives_a_legal_outlook(whole):
    assert whole.is_legal()
    assert whole.is_complete


def test_a_saved_winter_stays_within_its_bounds(whole):
    assert 185 <= whole.at_end.median <= 207
    assert 0.08 <= whole.chance_of_target.share <= 0.26
    assert whole.slowest[0].station == "weld"
    assert 2.2 <= whole.lost_nights <= 3.4


def test_the_chances_of_the_nights_add_up_to_the_chance_of_the_target(whole):
    assert sum(whole.finish.values()) == pytest.approx(whole.chance_of_target.share)


def test_a_chance_comes_with_the_interval_of_so_many_winters(whole):
    chance = whole.chance_of_target
    drawn = stats.binomtest(round(chance.share * FEW.winters), FEW.winters)
    interval = drawn.proportion_ci(0.95, method="wilson")
    assert (chance.low, chance.high) == pytest.approx((interval.low, interval.high), abs=1e-6)


def test_the_number_of_threads_does_not_change_the_outlook(whole):
    threaded = outlook_of(whole_shop(), replace(FEW, workers=3))
    assert same(threaded, whole)


def test_another_seed_gives_another_winter_of_the_same_kind(whole):
    other = outlook_of(whole_shop(), seed=8)
    assert not same(other, whole)
    assert other.at_end.mean == pytest.approx(whole.at_end.mean, rel=0.05)


def test_the_order_of_input_does_not_matter(whole):
    problem = whole_shop()
    turned = replace(
        problem,
        nights=problem.nights[::-1],
        people=problem.people[::-1],
        history=problem.history[::-1],
        ice=problem.ice[::-1],
        made=problem.made[::-1],
    )
    assert same(outlook_of(turned), whole)


def test_one_more_welder_never_loses_sets_on_the_same_luck():
    problem = whole_shop(nights=12)
    welder = replace(person("zoe", "weld"), asked=20, came=12)
    more = outlook_of(replace(problem, people=(*problem.people, welder)))
    assert more.at_end.mean > outlook_of(problem).at_end.mean + 5


def test_a_what_if_on_the_same_luck_is_far_surer_than_on_other_luck():
    """Half an hour more on every night: same seed against another seed."""
    problem = whole_shop(nights=8)
    longer = replace(
        problem, nights=tuple(replace(n, blocks=(*n.blocks, 30)) for n in problem.nights)
    )
    gains = [gain(problem, longer, seed, seed) for seed in range(4)]
    strangers = [gain(problem, longer, seed, seed + 50) for seed in range(4)]
    assert np.std(gains) < 0.6 * np.std(strangers)


def gain(before: Problem, after: Problem, seed: int, other_seed: int) -> float:
    small = OutlookParams(winters=300, batch=300)
    first, second = outlook_of(before, small, seed), outlook_of(after, small, other_seed)
    return second.at_end.mean - first.at_end.mean


def test_a_run_out_of_time_says_how_far_it_came():
    outlook = solve(whole_shop(), stop=Seconds(1e-9), params=FEW)
    assert outlook.winters == 250
    assert not outlook.is_complete
    assert "The time was up after 250 of 1000 winters." in outlook.explain()


def test_a_negative_seed_is_refused():
    with pytest.raises(ValueError, match="seed must be 0 or more"):
        solve(bare(), stop=LONG, seed=-1)


def test_the_outlook_agrees_with_single_people_and_whole_pieces():
    """The event-by-event winter on the same luck makes as many sets, within 2 %."""
    problem = whole_shop()
    laid_out = shop.laid_out(problem, learn.beliefs_of(problem, FEW), FEW)
    coarse, fine, _ = pair(laid_out, 20)
    assert coarse.mean() == pytest.approx(fine.mean(), rel=0.02)
    assert np.corrcoef(coarse, fine)[0, 1] > 0.95


@examples(15)
@given(
    nights=st.integers(0, 4),
    people=st.integers(0, 9),
    target=st.integers(0, 60),
    carries_on=st.booleans(),
    seed=st.integers(0, 99),
)
def test_any_shop_gives_a_legal_outlook(nights, people, target, carries_on, seed):
    shop_of_some = whole_shop(nights=nights, people=people, seed=seed)
    problem = replace(shop_of_some, total_target=target, carries_on=carries_on)
    outlook = outlook_of(problem, OutlookParams(winters=100, batch=100), seed)
    assert outlook.is_legal()
    assert carries_on or outlook.at_end.high_95 <= max(target, 0) + 1


def test_a_bad_sum_of_time_is_never_waited_for():
    started = time.monotonic()
    solve(bare(), stop=Seconds(60), params=CERTAIN)
    assert time.monotonic() - started < 30
