"""What the printed station card says, against the rules that it quotes."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from tests.workshops.paper.nights import PRINTED, a_card, a_night, a_shop
from tests.workshops.paper.reading import pages_of, squeezed
from workshops.nights.queries import last_spark_of
from workshops.paper.cards import cautions_of
from workshops.paper.printing import print_cards
from workshops.paper.words import sparks_words
from workshops.stations.models import Station


def on_paper(station: Station, *, typed: str = "", sparks: str = "") -> str:
    """The printed card of a station, without blanks."""
    station.cautions = [{"text": typed, "source": "club rule"}] if typed else []
    card = a_card(random.Random(1), full=0.2, kind="weld")
    card = replace(card, cautions=cautions_of(station), sparks=sparks)
    return pages_of(print_cards(a_night(a_shop()), [card], PRINTED).data)[0]


def welder(process: str, amperes: int) -> Station:
    return Station(kind="weld", is_spark=True, weld_process=process, weld_amperes=amperes)


@pytest.mark.parametrize(("amperes", "shade"), [(59, 7), (60, 8), (160, 10), (250, 11)])
def test_a_stick_welding_card_prints_at_least_the_shade_of_the_table(amperes, shade) -> None:
    """29 CFR 1910.133(a)(5), shielded metal arc; on a border the darker row."""
    assert squeezed(f"shade at least {shade} for SMAW") in on_paper(welder("SMAW", amperes))


def test_a_wire_welding_card_at_90_amperes_prints_10_and_not_the_8_of_stick_welding() -> None:
    """29 CFR 1910.133(a)(5), gas metal arc welding, 60 to 160 A."""
    page = on_paper(welder("GMAW", 90))
    assert squeezed("shade at least 10 for GMAW at 90 A") in page
    assert squeezed("at least 8") not in page


@pytest.mark.parametrize(("amperes", "shade"), [(49, 8), (149, 8), (150, 10)])
def test_a_tungsten_welding_card_prints_the_shade_of_its_row(amperes, shade) -> None:
    """29 CFR 1910.133(a)(5), gas tungsten arc welding."""
    assert squeezed(f"shade at least {shade} for GTAW") in on_paper(welder("GTAW", amperes))


def test_the_card_says_start_too_dark_and_keeps_a_darker_local_rule_beside_the_floor() -> None:
    """29 CFR 1910.133(a)(5), note; Michigan R 408.40624a asks 12 for gas-shielded arcs on iron."""
    page = on_paper(welder("GMAW", 90), typed="Shade 12 here, by the state's own rule.")
    assert squeezed("Start too dark, go lighter until you see the weld, never below 10") in page
    assert squeezed("Shade 12 here") in page


@pytest.mark.parametrize(("minutes", "spark"), [(30, "20:30"), (60, "20:00")])
def test_the_card_prints_the_last_spark_a_whole_watch_before_lock_up(minutes, spark) -> None:
    """29 CFR 1910.252(a)(2)(iii)(B): half an hour; NFPA 51B-2019: an hour. Lock-up at 21:00."""
    night = a_night(a_shop())
    night.lock_up = PRINTED.replace(hour=21, minute=0).time()
    said = sparks_words(welder("GMAW", 90), last_spark_of(night, minutes), minutes, "Ann")
    page = on_paper(welder("GMAW", 90), sparks=said)
    assert squeezed(f"LAST SPARK {spark}. The watch stays {minutes} minutes after it") in page


def test_every_card_defers_to_local_codes_and_never_says_safe_or_certified() -> None:
    """Common practice, no source: a card of a club is no licence."""
    page = on_paper(welder("GMAW", 90))
    assert squeezed("Local codes, the building's rules and licensed practice come before") in page
    assert "certified" not in page.lower()
    assert "safeto" not in page.lower()
