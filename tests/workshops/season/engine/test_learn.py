from dataclasses import replace

import numpy as np
import pytest

from tests.workshops.season.engine.winters import bare, night, person, whole_shop
from workshops.season.engine.learn import (
    beliefs_of,
    night_spread,
    rate_of,
    turnout_of,
    work_by_operation,
)
from workshops.season.engine.params import OutlookParams
from workshops.season.engine.problem import IceOut, PastNight, PastWork, Person

PARAMS = OutlookParams()
TURN = bare().operations[0]


def work(good: int, minutes: float, scrapped: int = 0) -> PastWork:
    return PastWork("turn", good, scrapped, minutes)


def steady(nights: int) -> list[PastWork]:
    return [work(20, 100.0) for _ in range(nights)]


def test_without_tallies_the_build_sheet_holds_within_a_half():
    rate = rate_of(TURN, [], PARAMS).pieces_per_minute
    assert rate.mean == pytest.approx(0.1)
    assert rate.sd / rate.mean == pytest.approx(0.5)


def test_many_tallies_outweigh_the_build_sheet():
    rate = rate_of(TURN, steady(50), PARAMS).pieces_per_minute
    assert rate.mean == pytest.approx(0.2, rel=0.01)


def test_uneven_nights_leave_the_rate_less_certain_than_even_ones():
    uneven = [work(good, 100.0) for good in (5, 35, 10, 30, 2, 38)]
    even = rate_of(TURN, steady(6), PARAMS).pieces_per_minute
    swinging = rate_of(TURN, uneven, PARAMS).pieces_per_minute
    assert swinging.sd / swinging.mean > 1.5 * even.sd / even.mean


def test_the_spread_of_nights_is_found_from_many_of_them():
    dice = np.random.default_rng(5)
    rates = dice.gamma(1 / 0.3**2, 0.3**2, size=800)
    nights = [work(round(200 * rate), 1_000.0) for rate in rates]
    assert night_spread(nights, stated=0.1) == pytest.approx(0.3, abs=0.03)


def test_one_night_says_nothing_about_spread():
    assert night_spread([work(20, 100.0)], stated=0.25) == 0.25


def test_scrap_is_learned_from_scrapped_pieces():
    scrap = rate_of(TURN, [work(800, 4_000.0, scrapped=200)], PARAMS).scrap
    assert scrap.mean == pytest.approx(0.2, abs=0.01)


def test_a_newcomer_is_expected_like_the_club():
    regulars = [Person(str(n), str(n), asked=20, came=came) for n, came in enumerate((4, 10, 16))]
    found = turnout_of([*regulars, Person("new", "New")], PARAMS)
    assert found["new"].unasked.mean == pytest.approx(0.5, abs=0.05)
    assert found["new"].unasked.sd > 1.5 * found["0"].unasked.sd


def test_one_good_night_does_not_make_a_regular():
    regulars = [Person(str(n), str(n), asked=20, came=came) for n, came in enumerate((4, 5, 6, 8))]
    found = turnout_of([*regulars, Person("new", "New", asked=1, came=1)], PARAMS)
    assert 0.29 < found["new"].unasked.mean < 0.5


def test_answers_count_even_before_anyone_has_a_history_of_them():
    found = turnout_of([Person("new", "New")], PARAMS)["new"]
    assert found.after_yes.mean > 0.8
    assert found.after_no.mean < 0.1


def test_lost_nights_are_learned_from_past_ones():
    history = tuple(PastNight(f"2026-01-{day:02d}", held=day % 2 == 0) for day in range(1, 31))
    assert beliefs_of(bare(history=history), PARAMS).lost.mean == pytest.approx(0.4, abs=0.05)


def test_a_turnout_that_swings_together_is_noticed():
    together = tuple(
        PastNight(f"2026-01-{day:02d}", asked=100, came=20 if day % 2 else 80)
        for day in range(1, 31)
    )
    assert beliefs_of(bare(history=together), PARAMS).turnout_spread > 0.5


def test_a_turnout_no_wilder_than_chance_adds_nothing():
    calm = tuple(PastNight(f"2026-01-{day:02d}", asked=100, came=50) for day in range(1, 31))
    assert beliefs_of(bare(history=calm), PARAMS).turnout_spread < 0.06


def test_work_without_minutes_is_passed_over():
    history = (PastNight("2026-01-02", work=(work(5, 0.0), work(5, 50.0))),)
    assert work_by_operation(bare(history=history)) == {"turn": [work(5, 50.0)]}


def test_a_club_without_history_is_told_each_assumption():
    unknown = bare(people=(person("Ana", "turn", asked=0, came=0),), nights=(
        night(chance_lost=None),
    ))  # fmt: skip
    told = " ".join(beliefs_of(unknown, PARAMS).assumptions)
    for words in ("nights are lost", "nobody's attendance", "turning", "ice"):
        assert words in told


def test_a_club_with_history_assumes_nothing():
    problem = replace(whole_shop(), ice=(IceOut("2027-03-05"),))
    assert beliefs_of(problem, PARAMS).assumptions == ()
