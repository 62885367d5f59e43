"""What a card gathers: its crew, its lens, its last spark, and its boxes."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.factories import take_back
from workshops.nights.models import Night, Placing
from workshops.paper.cards import USUAL, Card, cards_for, cautions_of
from workshops.paper.crew import NO_SIGN_OFF
from workshops.paper.tally import BOXES, tally_row
from workshops.paper.words import checks_of, every, lens_words, sparks_words
from workshops.people.models import SignOff
from workshops.stations.models import BuildSheet, Operation, Station

pytestmark = pytest.mark.usefixtures("clock")


def cards(night: Night) -> dict[str, Card]:
    return {card.station.name: card for card in cards_for(night)}


def test_there_is_a_card_for_every_station_somebody_stands_at(night: Night) -> None:
    placed = set(Placing.objects.filter(night=night).values_list("station__name", flat=True))
    assert set(cards(night)) == placed


def test_a_card_names_everybody_placed_there_once(night: Night) -> None:
    for name, card in cards(night).items():
        placed = Placing.objects.filter(night=night, station__name=name)
        assert len(card.crew) == placed.values("person").distinct().count()


def test_a_lapsed_sign_off_is_told_and_the_station_must_not_open(night: Night) -> None:
    name, card = next((n, c) for n, c in cards(night).items() if c.station.level_needed)
    for row in SignOff.objects.filter(station=card.station):
        take_back(row)
    short = cards(night)[name]
    assert {line.signed for line in short.crew} == {NO_SIGN_OFF}
    assert short.trouble


def test_a_night_with_nobody_placed_has_no_cards(night: Night) -> None:
    Placing.objects.filter(night=night).delete()
    assert cards(night) == {}


@pytest.mark.parametrize(("nth", "said"), [
    (1, "every piece"), (2, "every 2nd"), (3, "every 3rd"), (4, "every 4th"), (10, "every 10th"),
    (11, "every 11th"), (12, "every 12th"), (13, "every 13th"), (21, "every 21st"),
    (22, "every 22nd"), (23, "every 23rd"), (111, "every 111th"),
])  # fmt: skip
def test_every_nth_is_spoken_right(nth: int, said: str) -> None:
    assert every(nth) == said


def test_checks_name_the_gauge_and_what_to_do_with_a_bad_one() -> None:
    drill = Operation(first_piece="Try it.", check_every=2, gauge="G3", bad_piece="Burr.")
    first, then, bad = checks_of(drill)
    assert (first, then) == ("First piece: Try it.", "Then every 2nd, with G3.")
    assert "put it on hold" in bad


def test_an_operation_without_checks_has_none() -> None:
    assert checks_of(Operation()) == []


def weld(**fields: object) -> Station:
    return Station(kind="weld", is_spark=True, **fields)


def test_the_lens_follows_the_amperes_set_now_and_not_what_was_typed() -> None:
    typed = {"text": "Filter lens: shade at least 7", "source": "29 CFR 1910.133(a)(5)"}
    station = weld(weld_process="GMAW", weld_amperes=130, cautions=[typed])
    (lens,) = cautions_of(station)
    assert "at least 10" in lens["text"]


def test_cautions_of_a_station_without_an_arc_stay_as_they_are() -> None:
    own = [{"text": "Mind the step.", "source": USUAL}]
    assert cautions_of(Station(kind="tag", cautions=own)) == own


def test_amperes_beyond_the_table_send_people_to_the_lead() -> None:
    assert "Ask the welding lead" in lens_words(weld(weld_process="GMAW", weld_amperes=600))


def test_a_spark_station_says_when_and_who_watches() -> None:
    said = sparks_words(weld(), "20:00", 60, "Ann (18:30–21:00)")
    assert said.startswith("LAST SPARK 20:00.")
    assert "60 minutes" in said
    assert said.endswith("Ann (18:30–21:00).")


def test_a_spark_station_without_a_watch_may_not_strike() -> None:
    assert "NO WATCH IS NAMED: no spark" in sparks_words(weld(), "20:00", 60, "")


def test_a_station_without_sparks_says_nothing_of_them() -> None:
    assert sparks_words(Station(kind="tag"), "20:00", 60, "") == ""


@pytest.mark.parametrize(("pieces", "strokes", "lines"), [
    (None, 5, 1), (0, 5, 1), (36, 5, 1), (37, 5, 2), (72, 5, 2), (73, 10, 2), (145, 10, 2),
    (146, 20, 2), (5_000, 50, 2),
])  # fmt: skip
def test_boxes_hold_a_tenth_more_than_the_plan_expects(pieces, strokes: int, lines: int) -> None:
    row = tally_row("Drill", pieces)
    assert (row.strokes, len(row.lines)) == (strokes, lines)
    assert row.lines[-1][-1] == strokes * BOXES * lines


def test_a_station_with_many_operations_keeps_each_to_one_line() -> None:
    assert len(tally_row("Drill", 140, lines_most=1).lines) == 1


def test_a_drawing_that_is_not_in_force_is_marked(night: Night) -> None:
    card = next(iter(cards(night).values()))
    assert not replace(card, sheet=BuildSheet(status="in_force")).is_stale
    assert replace(card, sheet=BuildSheet(status="superseded")).is_stale
    assert not replace(card, sheet=None).is_stale
