import json
import math
from dataclasses import replace

import pytest

from inventory.engines.stop import Seconds
from tests.workshops.season.engine.winters import CERTAIN, bare, night, person, whole_shop
from workshops.season.engine import solve as outlook
from workshops.season.engine.problem import Arrival, Item, NightKind, Problem, Station, Variant
from workshops.season.engine_pace.model import expected_seats
from workshops.season.engine_pace.plan import Pace
from workshops.season.engine_pace.solve import solve

LONG = Seconds(30)


def pace_of(problem: Problem) -> Pace:
    return solve(problem, stop=LONG, params=CERTAIN)


def test_a_winter_without_nights_has_no_pace():
    assert pace_of(bare(nights=())).nights == ()


def test_a_certain_night_makes_what_paper_says():
    """Two hours at ten minutes a peg, one in a thousand scrapped: just under twelve."""
    assert pace_of(bare()).sets == pytest.approx(12 * 0.999, rel=0.005)


def test_nobody_makes_nothing():
    assert pace_of(bare(people=())).sets == 0.0


def test_the_target_is_reached_as_soon_as_it_can_be():
    nights = tuple(night(n) for n in range(4))
    target = (Variant("set", "set", {"peg": 1}, target=20),)
    pace = pace_of(bare(nights=nights, variants=target, carries_on=False))
    assert [n.sets for n in pace.nights] == pytest.approx([12, 20, 20, 20], rel=0.01)


def test_a_full_bench_is_said_to_be_busy_all_night():
    assert pace_of(bare()).nights[0].benches["bench"] == pytest.approx(1.0, abs=0.01)


def test_pieces_are_worth_the_sets_that_wait_for_them():
    """Four rods: a fifth would be a set more. With rods without end it would be nothing."""
    few = (Item("rod", "rod", on_hand=4), Item("peg", "peg"))
    assert pace_of(bare(items=few)).worth["rod"] == pytest.approx(1.0, abs=0.05)
    assert pace_of(bare()).worth["rod"] == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("more", [1, 2])
def test_a_price_is_what_solving_again_with_more_of_it_gives(more):
    def with_rods(count: int) -> Pace:
        return pace_of(bare(items=(Item("rod", "rod", on_hand=count), Item("peg", "peg"))))

    gain = with_rods(4 + more).sets - with_rods(4).sets
    assert gain == pytest.approx(more * with_rods(4).worth["rod"], rel=0.03)


def test_material_counts_from_the_night_it_arrives():
    nights, none = (night(0), night(1)), (Item("rod", "rod"), Item("peg", "peg"))
    coming = (Arrival("rod", nights[1].date, 1_000),)
    pace = pace_of(bare(nights=nights, items=none, arrivals=coming))
    assert [n.sets for n in pace.nights] == pytest.approx([0, 12], abs=0.1)


def hot_pace(*people: object, **changes: object) -> float:
    hot = (replace(bare().operations[0], hot=True),)
    return pace_of(bare(operations=hot, people=people, **changes)).sets


def test_no_arc_without_a_watch_and_full_work_with_one():
    assert hot_pace(person("Ana", "turn")) == pytest.approx(0.0, abs=1e-6)
    assert hot_pace(person("Ana", "turn"), person("Wim", may_watch=True)) > 11.9


def test_no_arc_after_the_last_spark_nor_on_a_straw_night():
    two = (person("Ana", "turn"), person("Wim", may_watch=True))
    half = (night(last_spark=60),)
    assert hot_pace(*two, nights=half) == pytest.approx(6, rel=0.01)
    assert hot_pace(*two, nights=(night(kind=NightKind.STRAW),)) == 0.0


def test_learners_need_a_lead():
    stations = (Station("bench", "the bench", benches=3),)
    alone = pace_of(bare(people=(person("Lena", learns=("turn",)),), stations=stations))
    led = (person("Lead", leads=("turn",)), person("Lena", learns=("turn",)))
    assert alone.sets == pytest.approx(0.0, abs=1e-6)
    expected = 12 * (1 + CERTAIN.learner_pace)
    assert pace_of(bare(people=led, stations=stations)).sets == pytest.approx(expected, rel=0.01)


@pytest.mark.parametrize(("people", "seats"), [(0, 2), (1, 2), (4, 2), (6, 3)])
def test_seats_taken_on_average_are_the_binomial_mean_cut_at_the_seats(people, seats):
    chances = [
        math.comb(people, k) * 0.4**k * 0.6 ** (people - k) * min(k, seats)
        for k in range(people + 1)
    ]
    assert expected_seats([0.4] * people, seats) == pytest.approx(sum(chances))


def test_a_whole_shop_has_a_legal_proven_pace_that_can_be_written_down():
    pace = solve(whole_shop(), stop=LONG)
    assert pace.is_legal()
    assert pace.is_proven
    assert json.loads(json.dumps(pace.to_json()))["target"] == 240
    assert pace.worth["head"] > 0.9
    assert "One more head is worth" in pace.explain()[-1]


def certain_shop(nights: int) -> Problem:
    """Everybody who is left comes every night; nothing is learned, lost or unknown."""
    shop = whole_shop(nights=nights)
    return replace(
        shop,
        people=tuple(replace(p, asked=10**6, came=10**6) for p in shop.people[::2]),
        nights=tuple(replace(n, chance_lost=0.0) for n in shop.nights),
        operations=tuple(replace(o, learning=1.0) for o in shop.operations),
        history=(),
    )


def test_the_outlooks_way_of_placing_makes_nearly_what_perfect_planning_would():
    """Both without luck: the pace is a bound that no plan passes; the outlook comes near."""
    problem = certain_shop(25)
    best = pace_of(problem).sets
    placed = outlook.solve(problem, stop=LONG, params=CERTAIN).at_end.mean
    assert 0.97 * best <= placed <= best
