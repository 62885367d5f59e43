import json
from dataclasses import replace

import pytest

from inventory.engines.stop import Seconds
from tests.workshops.season.engine.winters import bare, night, person, whole_shop
from workshops.season.engine import plan, sentences
from workshops.season.engine.params import OutlookParams
from workshops.season.engine.plan import Band
from workshops.season.engine.solve import solve

FEW = OutlookParams(winters=400, batch=400)


@pytest.fixture(scope="module")
def outlook():
    return solve(whole_shop(), stop=Seconds(60), params=FEW)


def test_an_outlook_survives_being_written_and_read(outlook):
    assert plan.from_json(json.loads(json.dumps(outlook.to_json()))) == outlook


def test_a_band_that_is_not_nested_is_not_legal(outlook):
    crossed = replace(outlook.at_end, low_80=outlook.at_end.high_80 + 1)
    assert not replace(outlook, at_end=crossed).is_legal()


def test_a_count_below_what_is_finished_is_not_legal(outlook):
    assert not replace(outlook, finished_now=10_000).is_legal()


def test_a_share_above_one_is_not_legal(outlook):
    assert not replace(outlook, finish={"2026-12-01": 1.5}).is_legal()


def test_a_middle_that_falls_is_not_legal(outlook):
    assert not replace(outlook, nights=outlook.nights[::-1]).is_legal()


def test_the_sentences_carry_their_numbers(outlook):
    told = "\n".join(outlook.explain())
    band: Band = outlook.at_end
    for number in (outlook.target, band.median, band.low_80, band.high_95):
        assert str(number) in told
    assert "The slowest station is welding" in told
    assert "Sat 20 February 2027" in told


def test_assumptions_are_told_one_by_one():
    new_club = bare(nights=(night(chance_lost=None),), people=(
        person("Ana", "turn", asked=0, came=0),
    ))  # fmt: skip
    outlook = solve(new_club, stop=Seconds(60), params=FEW)
    assert outlook.says_assumptions
    told = [line for line in outlook.explain() if line.startswith("Assumed, not learned: ")]
    assert len(told) == len(outlook.assumptions) == 4


def test_a_club_that_knows_itself_assumes_nothing(outlook):
    assert not outlook.says_assumptions


@pytest.mark.parametrize(
    ("share", "words"),
    [
        (0.0, "no winter of those tried"),
        (0.001, "fewer than 1 winter in 20"),
        (0.12, "about 1 winter in 10"),
        (0.17, "about 2 winters in 10"),
        (0.949, "about 9 winters in 10"),
        (0.97, "more than 19 winters in 20"),
        (1.0, "every winter tried"),
    ],
)
def test_shares_are_said_as_people_say_them(share, words):
    assert sentences.in_ten(share) == words


@pytest.mark.parametrize(
    ("share", "words"),
    [(0.0, "0 %"), (0.004, "under 1 %"), (0.5, "50 %"), (0.996, "over 99 %"), (1.0, "100 %")],
)
def test_percentages_never_round_into_certainty(share, words):
    assert sentences.percent(share) == words


def test_a_reached_target_is_the_first_thing_said(outlook):
    done = replace(outlook, finished_now=outlook.target)
    assert done.explain()[0] == "The target of 240 sets is reached: 240 are made."
