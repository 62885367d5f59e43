import numpy as np
import pytest

from tests.workshops.season.engine.winters import bare, whole_shop
from workshops.season.engine import flow
from workshops.season.engine.learn import beliefs_of
from workshops.season.engine.params import OutlookParams
from workshops.season.engine.problem import Variant


def test_a_set_takes_its_parts_and_their_parts():
    short, _ = flow.parts_in_a_set(whole_shop())
    assert short["head"] == 1
    assert short["cradle"] == 2
    assert short["rod"] == 2
    assert short["tube"] == 2 + 1  # the post's and the stem's


def test_pieces_wanted_add_up_over_the_variants():
    wanted = flow.pieces_wanted(whole_shop(), (160, 80))
    assert wanted["head"] == 240
    assert wanted["long-blank"] == 80
    assert wanted["straw"] == 480


def test_a_lone_total_is_shared_in_the_variants_own_proportion():
    problem = bare(
        variants=(Variant("a", "a", {"peg": 1}, 10), Variant("b", "b", {"peg": 1}, 20)),
        total_target=100,
    )
    assert flow.wanted_sets(problem) == (33, 67)


def test_a_lone_total_with_nothing_else_is_shared_evenly():
    problem = bare(
        variants=(Variant("a", "a", {"peg": 1}, 0), Variant("b", "b", {"peg": 1}, 0)),
        total_target=9,
    )
    assert flow.wanted_sets(problem) == (4, 5)


def test_a_piece_counts_wherever_it_has_got_to():
    problem = whole_shop()
    weights = flow.cover(problem, (160, 80))
    bend = [operation.id for operation in problem.operations].index("bend")
    racks = np.zeros(weights.shape[1])
    names = [item.id for item in problem.items]
    racks[names.index("cradle")] = 48
    racks[names.index("head")] = 24
    racks[len(names)] = 24  # finished short sets
    assert (weights @ racks)[bend] == pytest.approx((48 + 48 + 48) / 480)


def test_work_that_no_set_asks_for_covers_nothing():
    problem = bare(variants=(Variant("rods", "rods", {"rod": 1}, 5),))
    assert not flow.cover(problem, (5,)).any(axis=1)[0]


def test_scrap_is_allowed_for_all_the_way_on():
    problem = whole_shop()
    beliefs = beliefs_of(problem, OutlookParams())
    by_name = {operation.id: operation for operation in problem.operations}
    keeps = {name: 1 - beliefs.rates[name].scrap.mean for name in by_name}
    allowance = flow.scrap_allowance(problem, beliefs, by_name["bend"])
    assert allowance == pytest.approx(1 / (keeps["bend"] * keeps["weld"]))
