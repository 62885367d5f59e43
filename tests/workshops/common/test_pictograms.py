from xml.etree import ElementTree

import pytest

from workshops.common.pictograms import spoken_wear, station_mark, wear_pictogram
from workshops.common.pictograms.stations import STATIONS
from workshops.common.pictograms.wear import SPOKEN, WEAR
from workshops.stations.cautions import DEFAULT_NEVER_WEAR, DEFAULT_WEAR
from workshops.stations.models import Station

SVG = "{http://www.w3.org/2000/svg}"


def test_every_kind_of_station_has_a_mark_of_its_own():
    assert set(STATIONS) == {*Station.Kind.values, "other"}
    assert len(set(STATIONS.values())) == len(STATIONS)


def test_everything_that_cards_ask_for_or_forbid_has_a_picture_of_its_own():
    asked = {word for words in DEFAULT_WEAR.values() for word in words}
    forbidden = {word for words in DEFAULT_NEVER_WEAR.values() for word in words}
    assert asked | forbidden <= set(WEAR)
    assert len(set(WEAR.values())) == len(WEAR)
    assert set(SPOKEN) <= set(WEAR)


@pytest.mark.parametrize("svg", [
    *(station_mark(kind) for kind in STATIONS),
    *(wear_pictogram(word, forbidden=forbidden) for word in WEAR for forbidden in (False, True)),
])  # fmt: skip
def test_a_picture_is_well_formed_and_takes_the_colour_of_the_text(svg):
    root = ElementTree.fromstring(svg)
    assert root.get("stroke") == "currentColor"
    assert root.get("aria-hidden") == "true"
    assert len(root) >= 1


def test_a_labelled_picture_says_its_label_and_escapes_it():
    root = ElementTree.fromstring(station_mark("ring", "Ring & close"))
    assert root.get("role") == "img"
    assert root.findtext(f"{SVG}title") == "Ring & close"


def test_what_is_forbidden_is_ringed_and_crossed_and_not_told_by_colour():
    plain, crossed = wear_pictogram("gloves"), wear_pictogram("gloves", forbidden=True)
    assert ElementTree.fromstring(crossed).find(f"{SVG}circle").get("r") == "21.500"
    assert 'r="21.500"' not in plain
    assert "red" not in crossed


def test_a_word_or_kind_that_a_club_added_gets_a_plain_picture():
    assert station_mark("paint") == station_mark("other")
    assert wear_pictogram("snow boots") == wear_pictogram("other")


@pytest.mark.parametrize(
    ("word", "forbidden", "said"),
    [("eyes", False, "safety glasses"), ("gloves", True, "no gloves"), ("hat", False, "hat")],
)
def test_words_are_said_as_people_say_them(word, forbidden, said):
    assert spoken_wear(word, forbidden=forbidden) == said
