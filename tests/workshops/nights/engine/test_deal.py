"""Counts become people at benches: whatever the rows of the model allow can be dealt out."""

from __future__ import annotations

from itertools import product

import pytest

from tests.workshops.nights.engine.small import bench, night, person, watch
from workshops.nights.engine.deal import Crew, bench_sizes, deal_benches, stretches
from workshops.nights.engine.people import Span
from workshops.nights.engine.placings import Placing
from workshops.nights.engine.solve import solve
from workshops.nights.engine.stations import Station

SHAPES = [
    (least, most, ratio, opened)
    for least, most, ratio, opened in product((1, 2, 3), (1, 2, 3, 4), (0, 1, 2), (1, 2, 3))
    if least <= most
]


def _fits_rows(station: Station, ratio: int, opened: int, sizes: tuple[int, int, int]) -> bool:
    """The rows of the model in model_places, written out once more."""
    leads, alone, learners = sizes
    least, most = station.crew_min, station.crew_max
    if not least * opened <= sum(sizes) <= most * opened:
        return False
    full = most // (1 + ratio)
    beyond = most - full - 1 - ratio * full
    if learners > min(ratio * leads, beyond * leads + (ratio - beyond) * full * opened):
        return False
    low = least // (1 + ratio)
    over = least - (1 + ratio) * low
    reach = min((1 + ratio) * leads, over * leads + (1 + ratio - over) * low * opened)
    return alone + reach >= least * opened


@pytest.mark.parametrize(("least", "most", "ratio", "opened"), SHAPES)
def test_every_count_that_the_rows_allow_can_be_dealt(
    least: int, most: int, ratio: int, opened: int
) -> None:
    station = bench("roll", crew_min=least, crew_max=most, learner_ratio=ratio, benches=opened)
    problem = night([], [station])
    for sizes in product(range(most * opened + 1), repeat=3):
        if _fits_rows(station, ratio, opened, sizes):
            benches = bench_sizes(problem, station, sizes, opened)
            assert tuple(map(sum, zip(*benches, strict=True))) == sizes
            assert all(least <= sum(each) <= most for each in benches), (sizes, benches)
            assert all(each[2] <= ratio * each[0] for each in benches), (sizes, benches)


def _can_be_dealt(least: int, most: int, ratio: int, opened: int) -> set[tuple[int, ...]]:
    """Every total of benches that each fit, by trying all of them."""
    single = [
        each
        for each in product(range(most + 1), repeat=3)
        if least <= sum(each) <= most and each[2] <= ratio * each[0]
    ]
    totals = {(0, 0, 0)}
    for _ in range(opened):
        totals = {tuple(a + b for a, b in zip(t, s, strict=True)) for t in totals for s in single}
    return totals


@pytest.mark.parametrize(("least", "most", "ratio", "opened"), SHAPES)
def test_the_rows_allow_exactly_what_some_dealing_fits(
    least: int, most: int, ratio: int, opened: int
) -> None:
    station = bench("roll", crew_min=least, crew_max=most, learner_ratio=ratio, benches=opened)
    fitting = _can_be_dealt(least, most, ratio, opened)
    for sizes in product(range(most * opened + 1), repeat=3):
        # leads may stand anywhere, so the rows must not forbid what fits
        assert (sizes in fitting) == _fits_rows(station, ratio, opened, sizes), sizes


def test_who_was_at_a_bench_stays_there() -> None:
    station = bench("roll", crew_max=2, benches=2)
    crew = Crew((), ("ada", "bo", "cy"), ())
    before = {("cy", "roll"): 1, ("ada", "roll"): 2}
    at = deal_benches(night([], [station]), station, crew, 2, before=before)
    assert (at["cy"], at["ada"]) == (1, 2)


def test_a_watch_set_by_hand_gets_its_times_from_the_sparks() -> None:
    problem = night([person("ada", "weld"), person("bo", "watch")],
                    [bench("weld", is_hot=True), watch()])  # fmt: skip
    sparks = [Placing("ada", 0, "weld")]
    assert stretches(problem, sparks, [("bo", "steel", 0)])[0].end == 1155 + 60
    assert stretches(problem, [], [("bo", "steel", 0)])[0].end == 1155


def test_people_alike_stay_where_they_were_from_block_to_block() -> None:
    blocks = tuple(Span(1080 + 50 * i, 1125 + 50 * i) for i in range(4))
    people = [person(f"p{i}", "drill", "saw") for i in range(4)]
    stations = [bench("drill", benches=2), bench("saw", benches=2)]
    plan = solve(night(people, stations, blocks=blocks, lock_up=1300))
    places = {(each.person, each.station, each.bench) for each in plan.placings}
    assert len(plan.placings) == 16
    assert len(places) == 4
