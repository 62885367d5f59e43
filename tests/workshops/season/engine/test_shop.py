from dataclasses import replace

import pytest

from tests.workshops.season.engine.winters import bare, night, person, whole_shop
from workshops.season.engine.learn import beliefs_of
from workshops.season.engine.params import OutlookParams
from workshops.season.engine.problem import NightKind, Problem
from workshops.season.engine.shop import Part, Shop, crews_of, laid_out, may_run, parts_of

PARAMS = OutlookParams()


def lay_out(problem: Problem) -> Shop:
    return laid_out(problem, beliefs_of(problem, PARAMS), PARAMS)


def test_a_night_is_cut_at_the_last_spark_and_at_the_end_of_the_watch():
    cut = parts_of(night(blocks=(60, 60), last_spark=90, watch_until=110))
    assert cut == (
        Part(60, hot=True, watched=True),
        Part(30, hot=True, watched=True),
        Part(20, hot=False, watched=True),
        Part(10, hot=False, watched=False),
    )


def test_a_night_without_a_last_spark_is_hot_throughout():
    assert all(part.hot for part in parts_of(night()))


def test_a_last_spark_at_nought_leaves_no_hot_part():
    assert not any(part.hot for part in parts_of(night(last_spark=0)))


@pytest.mark.parametrize(("spark", "watch"), [(0, 0), (25, 25), (60, 90), (500, 900), (None, 40)])
def test_the_parts_of_a_night_add_up_to_it(spark, watch):
    cut = parts_of(night(blocks=(30, 45, 45), last_spark=spark, watch_until=watch))
    assert sum(part.minutes for part in cut) == 120
    assert all(part.minutes > 0 for part in cut)


def test_people_with_the_same_sign_offs_stand_together():
    people = (person("Ana", "turn"), person("Bo", "turn"), person("Cy"))
    crews = crews_of(people, [])
    assert [[member.id for member in crew.members] for crew in crews] == [["Ana", "Bo"], ["Cy"]]


def test_the_order_in_which_people_are_given_does_not_matter():
    people = whole_shop().people
    assert crews_of(people, []) == crews_of(tuple(reversed(people)), [])


def test_a_lead_may_work_alone():
    (crew,) = crews_of((person("Ana", leads=("turn",)),), [])
    assert crew.may("turn", crew.alone, "2026-12-01")


def test_a_sign_off_counts_up_to_the_day_before_it_lapses():
    people = (person("Ana", "turn", lapses={"turn": "2026-12-08"}),)
    (crew,) = crews_of(people, ["2026-12-01", "2026-12-08"])
    assert crew.may("turn", crew.alone, "2026-12-07")
    assert not crew.may("turn", crew.alone, "2026-12-08")


def test_sign_offs_that_lapse_between_the_same_nights_are_alike():
    people = tuple(
        person(name, "turn", lapses={"turn": day})
        for name, day in (("Ana", "2026-12-02"), ("Bo", "2026-12-05"), ("Cy", "2027-06-01"))
    )
    crews = crews_of(people, ["2026-12-01", "2026-12-08"])
    assert [len(crew.members) for crew in crews] == [2, 1]


def test_hot_work_never_runs_on_a_straw_night_nor_straw_on_a_steel_night():
    weld, roll = whole_shop().operations[6:8]
    runs = {(o.id, k): may_run(o, night(kind=k)) for o in (weld, roll) for k in NightKind}
    assert not runs["weld", NightKind.STRAW]
    assert not runs["roll", NightKind.STEEL]
    assert sum(runs.values()) == 4


def test_a_closed_operation_does_not_run():
    assert not may_run(bare().operations[0], night(closed=("turn",)))


def test_the_scarcest_work_is_most_pressing():
    assert lay_out(whole_shop()).nights[1].jobs[0].id == "weld"


def test_those_who_can_do_least_else_are_placed_first():
    people = (person("Able", "turn", "wrap"), person("Plain", "turn"))
    turn = bare().operations[0]
    wrap = replace(turn, id="wrap", makes="roll", uses={})
    items = (*bare().items, replace(bare().items[1], id="roll"))
    shop = lay_out(bare(people=people, operations=(turn, wrap), items=items))
    hands = shop.nights[0].hands[0].alone
    assert [shop.crews[crew].members[0].id for crew, *_ in hands] == ["Plain", "Able"]


def test_the_quick_come_before_the_single_skilled():
    """Found by adding welders: slow ones took the benches and the winter made fewer sets."""
    people = (person("Plain", "turn"), person("Quick", "turn", pace={"turn": 1.3}, may_watch=True))
    shop = lay_out(bare(people=people))
    hands = shop.nights[0].hands[0].alone
    assert [pace for _, pace, _ in hands] == [1.3, 1.0]


def test_a_welder_is_the_last_to_be_sent_on_watch():
    shop = lay_out(whole_shop())
    could_weld = [flag for _, flag in shop.nights[0].watchers]
    assert could_weld == sorted(could_weld)


def test_a_learner_works_at_the_stated_pace_unless_known():
    people = (person("Lena", learns=("turn",)), person("Mo", learns=("turn",), pace={"turn": 0.9}))
    shop = lay_out(bare(people=(people[0],)))
    assert shop.nights[0].hands[0].learners == ((0, PARAMS.learner_pace),)
    shop = lay_out(bare(people=(people[1],)))
    assert shop.nights[0].hands[0].learners == ((0, 0.9),)
