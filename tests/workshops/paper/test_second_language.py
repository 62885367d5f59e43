"""The translation files: every line is used, none is empty, figures and names go over unchanged."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from workshops.common.pictograms import spoken_wear
from workshops.common.pictograms.wear import WEAR
from workshops.nights.models import Placing
from workshops.paper.backs import HEADINGS
from workshops.paper.coating import PAINT_WORDS, ZINC_SOURCE
from workshops.paper.crew import NO_SIGN_OFF, STOPPED
from workshops.paper.second_language import LANGUAGES, language
from workshops.paper.words import every
from workshops.stations.card_texts import CARD_TEXTS
from workshops.stations.cautions import CAUTIONS
from workshops.stations.guidance.shade import Process, shade_words
from workshops.stations.guidance.zinc import zinc_words
from workshops.stations.inspections import SOURCE
from workshops.stations.models import BuildSheet, Level, Station

# What is said of figures, said here with some, as the cards say it.
SENTENCES = (
    "page 2 of 6", "needs no sign-off", "needs sign-off “alone”", "and", "no sign-off needed",
    "needs sign-off “with a lead”, 18 and over", "“alone”", "“alone” until 5 Nov 2026",
    "DO NOT OPEN YET: Tape and square", "First piece: Clamp", "Then every piece.",
    "Then every piece, with Gauge G3.", f"Then {every(2)}.", f"Then {every(11)}, with Gauge G3.",
    "Bad: Clamp Tag it, put it on hold, tell the lead.", "Use up first: 12 Stem by rev B.",
    "LAST SPARK 20:00. The watch stays 60 minutes after it, to lock-up.",
    "LAST SPARK 20:00. The watch stays 60 minutes after it, to lock-up: Bo (18:30–21:00).",
    "LAST SPARK 20:00. The watch stays 60 minutes after it, to lock-up. NO WATCH IS NAMED: no"
    " spark.",
    "Filter lens: too little. Ask the welding lead before the first arc.",
    "GALVANISED STOCK IS HERE: Conduit. Clamp", "PAINTED STOCK IS HERE: Tube. Clamp",
    "Spot welder: inspection overdue since 3 Oct 2025. Tell the duty lead.",
    "Spot welder: inspection overdue: none is written down. Tell the duty lead.",
    shade_words(Process.SMAW, 100), zinc_words(), PAINT_WORDS, NO_SIGN_OFF, STOPPED, SOURCE,
)  # fmt: skip
CODES = sorted(LANGUAGES)


def card_texts() -> Iterator[str]:
    """Every field of every card that a club begins with."""
    for card in CARD_TEXTS.values():
        for step in card.steps:
            yield from step.as_row().values()
        yield from filter(None, (card.first_piece, card.bad_piece))


def usual() -> set[str]:
    """Every text that the usual cards print in words."""
    labels = (Level, Station.Kind, Placing.Role, BuildSheet.Status)
    worn = [word for word in WEAR if word != "other"]
    return {
        *SENTENCES, *HEADINGS.values(), *card_texts(), *map(spoken_wear, worn),
        *(spoken_wear(word, forbidden=True) for word in worn),
        *(caution.text for row in CAUTIONS.values() for caution in row),
        *(str(label) for choices in labels for label in choices.labels),
    }  # fmt: skip


@pytest.mark.parametrize("code", CODES)
def test_every_usual_text_is_translated_to_its_last_part(code: str) -> None:
    free = {text for text in SENTENCES if "Tape and square" in text or "too little" in text}
    to = language(code)
    assert [text for text in usual() - free if to.mark in to.of(text)] == []


@pytest.mark.parametrize("code", CODES)
def test_no_line_of_a_file_is_stale(code: str) -> None:
    to, texts = language(code), usual()
    sources = {caution.source for row in CAUTIONS.values() for caution in row} | {
        SOURCE,
        ZINC_SOURCE,
    }
    met = {text for text in texts | sources if text in to.exact}
    assert set(to.exact) - met == set()
    first = [next((p for p, _ in to.patterns if p.fullmatch(t)), None) for t in texts - met]
    assert {pattern for pattern, _ in to.patterns} - set(first) == set()


@pytest.mark.parametrize("code", CODES)
def test_no_translation_is_empty_and_what_is_filled_in_is_the_same(code: str) -> None:
    for rows in language(code).sections.values():
        for source, said in rows.items():
            assert said.strip(), source
            assert set(re.findall(r"\{\w+\}", source)) == set(re.findall(r"\{\w+\}", said)), source


@pytest.mark.parametrize("code", CODES)
def test_figures_and_units_of_the_cautions_stay_as_they_are(code: str) -> None:
    figures = re.compile(r"\d+(?:\.\d+)?|\b(?:ft|mg|dBA|°F|Z87\+?)")
    for source, said in language(code).sections["cautions"].items():
        assert sorted(figures.findall(source)) == sorted(figures.findall(said)), source


def test_both_files_hold_the_same_lines() -> None:
    spanish, french = (language(code).sections for code in CODES)
    assert {k: list(v) for k, v in spanish.items()} == {k: list(v) for k, v in french.items()}


def test_a_text_of_the_club_stays_english_and_says_so() -> None:
    assert language("es").of("Mind the loose tile") == "[en inglés] Mind the loose tile"
    said = language("fr").of("First piece: Mind the loose tile")
    assert said == "Première pièce\u00a0: [en anglais] Mind the loose tile"


def test_a_language_without_a_file_is_refused() -> None:
    with pytest.raises(KeyError):
        language("../es")
