from dataclasses import replace

import numpy as np
import pytest

from tests.workshops.season.engine.winters import (
    CERTAIN,
    bare,
    night,
    person,
    whole_shop,
    without_chance_of_loss,
)
from workshops.season.engine import shop, winter
from workshops.season.engine.learn import beliefs_of
from workshops.season.engine.params import OutlookParams
from workshops.season.engine.problem import Answer, Arrival, Item, Operation, Problem, Variant
from workshops.season.engine.streams import Streams
from workshops.season.engine.winter import Tally

FEW = OutlookParams(winters=400, batch=400)


def run(problem: Problem, params: OutlookParams = CERTAIN, size: int = 200) -> Tally:
    laid_out = shop.laid_out(problem, beliefs_of(problem, params), params)
    return winter.run(laid_out, Streams(7, 0, size))


def test_a_certain_night_makes_what_paper_says():
    """Two hours at ten minutes a peg are twelve pegs, or eleven and a bit."""
    tally = run(bare())
    assert tally.finished.mean() == pytest.approx(11.5, abs=0.5)
    assert tally.people[0] == pytest.approx(200, abs=1)


def test_nights_add_up():
    tally = run(bare(nights=(night(0), night(1), night(2))))
    assert tally.finished.mean(axis=1) == pytest.approx([12, 24, 36], abs=0.7)


def test_a_lost_night_makes_nothing_and_nobody_comes():
    tally = run(bare(nights=(night(0, chance_lost=1.0), night(1))))
    assert tally.held.tolist() == [0, 200]
    assert tally.people[0] == 0
    assert tally.finished[0].max() == 0


def test_finished_sets_never_fall():
    tally = run(whole_shop(), FEW)
    assert (np.diff(tally.finished, axis=0) >= 0).all()


def test_no_more_comes_out_than_the_material_allows():
    items = (Item("rod", "rod", on_hand=5), Item("peg", "peg", on_hand=2))
    tally = run(bare(items=items))
    assert tally.finished.max() <= 7
    assert tally.short.tolist() == [200, 0]


def test_heads_in_sets_and_on_racks_are_exactly_those_welded():
    problem = without_chance_of_loss(whole_shop())
    laid_out = shop.laid_out(problem, beliefs_of(problem, FEW), FEW)
    tally = winter.run(laid_out, Streams(7, 0, 400))
    welded = tally.pieces[:, [o.id for o in problem.operations].index("weld")].sum() / 400
    assert tally.ends.sum(axis=0).mean() <= welded + 1e-3


def test_a_delivery_comes_on_its_day_or_late_by_its_days():
    nights = (night(0), night(1), night(2))
    nothing = (Item("rod", "rod"), Item("peg", "peg"))
    arrival = Arrival("rod", nights[1].date, 1_000, chance_late=0.3, late_days=5)
    tally = run(bare(nights=nights, items=nothing, arrivals=(arrival,)), size=4_000)
    assert tally.finished[0].max() == 0
    assert (tally.finished[1] > 0).mean() == pytest.approx(0.7, abs=0.03)
    assert (tally.finished[2] > 0).all()


def test_a_delivery_before_the_first_night_is_there_for_it():
    arrival = Arrival("rod", "2026-11-20", 1_000)
    nothing = (Item("rod", "rod"), Item("peg", "peg"))
    assert run(bare(items=nothing, arrivals=(arrival,))).finished.min() > 0


def test_those_who_said_no_stay_away_and_those_who_said_yes_come():
    day = night().date
    people = (
        person("Ana", "turn", answers={day: Answer.YES}, said_yes=10**6, came_after_yes=10**6),
        person("Bo", answers={day: Answer.NO}, said_no=10**6),
    )
    tally = run(bare(people=people))
    assert tally.people[0] == pytest.approx(200, abs=2)


def test_a_lapsed_sign_off_closes_the_work_from_that_day():
    nights = (night(0), night(1))
    people = (person("Ana", "turn", lapses={"turn": nights[1].date}),)
    tally = run(bare(nights=nights, people=people))
    assert tally.pieces[0, 0] > 0
    assert tally.pieces[1, 0] == 0


def test_learning_makes_the_second_night_faster_than_the_first():
    learning = (replace(bare().operations[0], learning=0.8),)
    tally = run(bare(nights=(night(0), night(1)), operations=learning))
    first, second = tally.pieces[:, 0] / 200
    assert first == pytest.approx(12, abs=0.5)  # the rate holds at the first piece
    assert second == pytest.approx(12 * min(13**0.3219, CERTAIN.learning_cap), rel=0.03)


def test_the_slowest_station_is_the_one_that_cannot_keep_up():
    slow = Operation("point", "pointing", "anvil", 30.0, "pin", {"peg": 1})
    problem = bare(
        nights=tuple(night(n) for n in range(6)),
        stations=(*bare().stations, replace(bare().stations[0], id="anvil", title="the anvil")),
        items=(*bare().items, Item("pin", "pin")),
        operations=(*bare().operations, slow),
        variants=(Variant("set", "set", {"pin": 1}, target=100),),
        people=(person("Ana", "turn"), person("Bo", "point")),
    )
    slowest = run(problem).slowest[1:].sum(axis=0)
    assert slowest[1] > 0.95 * slowest.sum()


def test_shared_parts_go_to_the_first_variant_until_it_has_its_target():
    variants = (Variant("a", "a", {"peg": 1}, 5), Variant("b", "b", {"peg": 1}, 100))
    ends = run(bare(variants=variants)).ends
    assert (ends[0] == 5).all()
    assert ends[1].mean() == pytest.approx(7, abs=0.7)


def test_a_club_that_stops_at_its_target_reaches_it_exactly():
    variants = (Variant("set", "set", {"peg": 1}, target=20),)
    nights = tuple(night(n) for n in range(4))
    ends = run(bare(variants=variants, nights=nights, carries_on=False)).ends
    assert (ends == 20).all()


def test_a_night_more_or_less_leaves_the_luck_of_the_others_alone():
    problem = whole_shop(nights=6)
    whole, cut = run(problem, FEW, 400), run(replace(problem, nights=problem.nights[:5]), FEW, 400)
    assert (whole.held[:5] == cut.held).all()
    assert (whole.people[:5] == cut.people).all()


def test_without_people_nights_operations_or_variants_nothing_breaks():
    for empty in ({"people": ()}, {"nights": ()}, {"variants": ()}):
        assert run(bare(**empty)).finished.sum() == 0
    assert run(bare(operations=(), people=())).finished.sum() == 0
