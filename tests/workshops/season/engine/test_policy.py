"""One stretch of a night, one rule at a time, small enough to check by hand.

The bare shop turns a peg in ten minutes, so one person makes six in an hour.
"""

from dataclasses import replace

import numpy as np
import pytest

from tests.workshops.season.engine.winters import CERTAIN, bare, person
from workshops.season.engine import policy, shop
from workshops.season.engine.learn import beliefs_of
from workshops.season.engine.policy import Desk
from workshops.season.engine.problem import Item, Operation, Problem, Station, Variant
from workshops.season.engine.shop import Part

HOUR = Part(60.0, hot=True, watched=True)
AFTER = Part(60.0, hot=False, watched=True)


def desk_of(laid_out: shop.Shop, **racks: int) -> Desk:
    """A desk with everybody here, everything free, nothing scrapped, two replicates."""
    problem = laid_out.problem
    here = [len(crew.members) for crew in laid_out.crews]
    start = [racks.get(item.id, item.on_hand) for item in problem.items]
    start += [variant.finished for variant in problem.variants]
    rates = [1 / operation.minutes for operation in problem.operations]

    def twice(values: list[float]) -> np.ndarray:
        return np.array([values, values], dtype=np.float32).T.reshape(len(values), 2)

    jobs = len(rates)
    return Desk(
        free=twice(here), bench=twice([s.benches for s in problem.stations]), racks=twice(start),
        made=twice([0] * jobs), rate=twice(rates), good=twice([1] * jobs), total=twice([0] * jobs),
        unmet=twice([0] * jobs), beside=twice([0] * jobs), watched=np.zeros(2, dtype=np.bool_),
    )  # fmt: skip


def lay_out(problem: Problem) -> shop.Shop:
    return shop.laid_out(problem, beliefs_of(problem, CERTAIN), CERTAIN)


def made_in_an_hour(problem: Problem, part: Part = HOUR, **racks: int) -> dict[str, float]:
    """What an hour adds to each rack."""
    laid_out = lay_out(problem)
    desk = desk_of(laid_out, **racks)
    before = desk.racks.copy()
    policy.work(laid_out, laid_out.nights[0], part, desk)
    added = (desk.racks - before)[:, 0]
    return {item.id: float(count) for item, count in zip(problem.items, added, strict=False)}


def pegs(**changes: object) -> float:
    return made_in_an_hour(bare(**changes))["peg"]


def crowd(size: int, **changes: object) -> tuple[object, ...]:
    return tuple(person(f"person-{n}", "turn", **changes) for n in range(size))


def test_one_person_makes_six_pegs_from_six_rods_in_an_hour():
    added = made_in_an_hour(bare())
    assert added["peg"] == pytest.approx(6.0)
    assert added["rod"] == pytest.approx(-6.0)


def test_nobody_makes_nothing():
    assert pegs(people=()) == 0.0


def test_a_person_without_the_sign_off_makes_nothing():
    assert pegs(people=(person("Ana"),)) == 0.0


def test_one_bench_seats_one_however_many_come():
    assert pegs(people=crowd(5)) == pytest.approx(6.0)


def test_three_benches_seat_three():
    stations = (Station("bench", "the bench", benches=3),)
    assert pegs(people=crowd(5), stations=stations) == pytest.approx(18.0)


def test_a_fast_worker_makes_more_on_the_same_bench():
    assert pegs(people=crowd(1, pace={"turn": 1.5})) == pytest.approx(9.0)


@pytest.mark.parametrize(("people", "pieces"), [(1, 0.0), (2, 12.0), (3, 12.0), (4, 24.0)])
def test_a_station_for_pairs_works_in_whole_pairs(people, pieces):
    stations = (Station("bench", "the bench", benches=3, crew_min=2, crew_max=2),)
    assert pegs(people=crowd(people), stations=stations) == pytest.approx(pieces)


def test_work_stops_when_the_material_is_used_up():
    added = made_in_an_hour(bare(), rod=4)
    assert (added["peg"], added["rod"]) == (pytest.approx(4.0), pytest.approx(-4.0))


def test_work_stops_when_the_rack_is_full():
    items = (Item("rod", "rod", on_hand=10_000), Item("peg", "peg", on_hand=7, rack_limit=10))
    assert pegs(items=items) == pytest.approx(3.0)


def test_an_overfull_rack_gives_nothing_back():
    items = (Item("rod", "rod", on_hand=10_000), Item("peg", "peg", on_hand=17, rack_limit=10))
    assert pegs(items=items) == 0.0


def test_a_club_that_stops_at_its_target_makes_no_more_than_it():
    variants = (Variant("set", "set", {"peg": 1}, target=3),)
    assert pegs(variants=variants, carries_on=False) == pytest.approx(3.0, abs=0.6)


def test_a_learner_alone_makes_nothing():
    assert pegs(people=(person("Lena", learns=("turn",)),)) == 0.0


@pytest.mark.parametrize(("ratio", "learners"), [(0, 0), (1, 1), (2, 2), (5, 3)])
def test_learners_work_beside_a_lead_up_to_the_clubs_ratio(ratio, learners):
    people = (
        person("Lead", leads=("turn",)),
        *(person(f"learner-{n}", learns=("turn",)) for n in range(3)),
    )
    stations = (Station("bench", "the bench", benches=9),)
    made = pegs(people=people, stations=stations, learners_per_lead=ratio)
    assert made == pytest.approx(6.0 + learners * 6.0 * CERTAIN.learner_pace)


def test_a_learner_makes_up_a_pair_with_a_lead():
    people = (person("Lead", leads=("turn",)), person("Lena", learns=("turn",)))
    stations = (Station("bench", "the bench", benches=1, crew_min=2, crew_max=2),)
    assert pegs(people=people, stations=stations) == pytest.approx(6.0 * 1.6)


def two_steps(**changes: object) -> Problem:
    """Rods become pegs at one bench, pegs become pins at another."""
    pin = Operation("point", "pointing", "anvil", 10.0, "pin", {"peg": 1})
    given = {
        "stations": (Station("bench", "the bench", 1), Station("anvil", "the anvil", 1)),
        "items": (*bare().items, Item("pin", "pin")),
        "operations": (*bare().operations, pin),
        "variants": (Variant("set", "set", {"pin": 1}, target=100),),
        "people": (person("Ana", "turn"), person("Bo", "point")),
    }
    return bare(**{**given, **changes})


def test_what_is_made_in_a_stretch_is_not_used_before_the_next():
    added = made_in_an_hour(two_steps())
    assert added["pin"] == 0.0
    assert added["peg"] == pytest.approx(6.0)


def test_what_is_on_the_rack_is_used():
    assert made_in_an_hour(two_steps(), peg=50)["pin"] == pytest.approx(6.0)


def test_one_person_for_two_jobs_splits_the_hour_and_is_never_in_two_places():
    people = (person("Ana", "turn", "point"),)
    laid_out = lay_out(two_steps(people=people))
    desk = desk_of(laid_out, peg=3)
    policy.work(laid_out, laid_out.nights[0], HOUR, desk)
    assert desk.total.sum(axis=0) == pytest.approx([6.0, 6.0])
    assert desk.total[1] == pytest.approx([3.0, 3.0])  # all three pegs, then back to turning


def test_two_jobs_at_one_station_share_its_bench():
    stations = (Station("bench", "the bench", 1),)
    operations = tuple(replace(o, station="bench") for o in two_steps().operations)
    laid_out = lay_out(two_steps(stations=stations, operations=operations))
    desk = desk_of(laid_out, peg=50)
    policy.work(laid_out, laid_out.nights[0], HOUR, desk)
    assert desk.total.sum(axis=0) == pytest.approx([6.0, 6.0])


def hot_shop(*people: object, part: Part = HOUR) -> float:
    hot = (replace(bare().operations[0], hot=True),)
    stations = (Station("bench", "the bench", benches=4),)
    return made_in_an_hour(bare(operations=hot, people=people, stations=stations), part)["peg"]


def test_no_arc_without_a_fire_watch():
    assert hot_shop(person("Ana", "turn")) == 0.0


def test_a_watch_who_does_nothing_else_lets_the_arc_run():
    assert hot_shop(person("Ana", "turn"), person("Wim", may_watch=True)) == pytest.approx(6.0)


def test_a_lone_welder_cannot_be_the_watch_too():
    assert hot_shop(person("Ana", "turn", may_watch=True)) == 0.0


def test_one_of_two_welders_watches_when_nobody_else_may():
    both = (person("Ana", "turn", may_watch=True), person("Bo", "turn", may_watch=True))
    assert hot_shop(*both) == pytest.approx(6.0)


def test_no_arc_after_the_last_spark():
    watch = person("Wim", may_watch=True)
    assert hot_shop(person("Ana", "turn"), watch, part=AFTER) == 0.0


def test_the_watch_stays_after_the_last_spark():
    hot = (replace(bare().operations[0], hot=True),)
    people = (person("Ana", "turn"), person("Wim", may_watch=True))
    laid_out = lay_out(bare(operations=hot, people=people))
    desk = desk_of(laid_out)
    policy.work(laid_out, laid_out.nights[0], HOUR, desk)
    desk.free[:] = 1.0
    policy.work(laid_out, laid_out.nights[0], AFTER, desk)
    watching = [c for c, crew in enumerate(laid_out.crews) if crew.may_watch]
    assert (desk.free[watching] == 0.0).all()
    assert desk.watched.all()


def test_scrap_uses_material_but_fills_no_rack():
    laid_out = lay_out(bare())
    desk = desk_of(laid_out)
    desk.good[:] = 0.5
    policy.work(laid_out, laid_out.nights[0], HOUR, desk)
    rod, peg = desk.racks[0, 0], desk.racks[1, 0]
    assert (10_000 - rod, peg) == (pytest.approx(6.0), pytest.approx(3.0))


def test_the_station_where_work_waits_for_a_bench_is_noticed():
    """Two turn at two benches; one anvil cannot keep up with the pegs before it."""
    stations = (Station("bench", "the bench", 2), Station("anvil", "the anvil", 1))
    people = (*crowd(2), person("Bo", "point"), person("Cy", "point"))
    laid_out = lay_out(two_steps(stations=stations, people=people))
    desk = desk_of(laid_out, peg=50)
    policy.work(laid_out, laid_out.nights[0], replace(HOUR, minutes=20.0), desk)
    assert desk.unmet[1, 0] > 0
    assert desk.unmet[0, 0] == 0


def test_a_job_without_a_known_rate_does_not_break_the_sums():
    laid_out = lay_out(bare())
    desk = desk_of(laid_out)
    desk.rate[:] = 1e-6
    policy.work(laid_out, laid_out.nights[0], HOUR, desk)
    assert np.isfinite(desk.racks).all()
    assert desk.racks[1] == pytest.approx([6e-5, 6e-5])
