import re

import pytest

from workshops.stations.card_texts import CARD_TEXTS, text_for
from workshops.stations.cautions import (
    CAUTIONS,
    DEFAULT_NEVER_WEAR,
    DEFAULT_WEAR,
    DEFER,
    Known,
    cautions_for,
)
from workshops.stations.guidance.shade import Process
from workshops.stations.models import Operation, Station

KINDS = [kind.value for kind in Station.Kind]


def test_every_kind_of_station_has_texts_cautions_and_wear():
    assert set(CARD_TEXTS) == set(CAUTIONS) == set(DEFAULT_WEAR) == set(KINDS)
    assert set(DEFAULT_NEVER_WEAR) <= set(KINDS)


@pytest.mark.parametrize("kind", KINDS)
def test_a_card_has_five_to_seven_steps_each_with_key_point_and_reason(kind):
    steps = text_for(kind).steps
    assert 5 <= len(steps) <= 7
    assert all(all(row.values()) for row in (step.as_row() for step in steps))


@pytest.mark.parametrize("kind", KINDS)
def test_the_words_fit_the_fields_that_keep_them(kind):
    text = text_for(kind)
    for name in ("first_piece", "bad_piece"):
        assert len(getattr(text, name)) <= Operation._meta.get_field(name).max_length


@pytest.mark.parametrize("kind", ["cut", "drill", "bend", "weld", "bolt", "roll", "ring", "fill"])
def test_work_that_makes_pieces_says_how_to_check_the_first_and_what_a_bad_one_is(kind):
    text = text_for(kind)
    assert text.first_piece
    assert text.bad_piece
    assert text.check_every > 0


@pytest.mark.parametrize("kind", KINDS)
def test_card_texts_name_no_sizes_because_the_drawing_has_them(kind):
    text = text_for(kind)
    words = " ".join([*(" ".join(s.as_row().values()) for s in text.steps), text.first_piece])
    assert not re.search(r"\d", words)


def test_a_kind_nobody_knows_has_no_text_and_no_cautions():
    assert text_for("forge") is None
    assert cautions_for("forge") == ()


@pytest.mark.parametrize("kind", KINDS)
def test_every_caution_has_a_source_and_never_promises(kind):
    for caution in cautions_for(kind):
        assert caution.text.endswith(".")
        assert (caution.source == Known.PRACTICE.value) is (caution.known is Known.PRACTICE)
        assert not re.search(r"\b(safe|certified)\b", caution.text + DEFER, re.IGNORECASE)


def test_the_drill_forbids_gloves_and_never_asks_for_them():
    assert "gloves" in DEFAULT_NEVER_WEAR["drill"]
    assert "gloves" not in DEFAULT_WEAR["drill"]


@pytest.mark.parametrize("kind", KINDS)
def test_nothing_is_both_asked_for_and_forbidden(kind):
    assert not set(DEFAULT_WEAR[kind]) & set(DEFAULT_NEVER_WEAR.get(kind, ()))


def test_a_welding_card_leads_with_the_lens_and_ends_with_zinc():
    found = cautions_for("weld", process=Process.GMAW, amperes=130)
    assert "shade at least 10" in found[0].text
    assert "Zinc" in found[-1].text


def test_a_darker_local_rule_reaches_the_card():
    found = cautions_for("weld", process=Process.GMAW, amperes=130, local_shade=12)
    assert "shade at least 12" in found[0].text


def test_a_caution_becomes_the_row_that_a_station_keeps():
    assert set(cautions_for("ring")[0].as_row()) == {"text", "source"}
