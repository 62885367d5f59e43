"""Whatever a night holds, a card is one page, whole, and large enough to read."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from tests.workshops.paper.nights import PRINTED, a_card, a_night, a_shop
from tests.workshops.paper.reading import pages_of, paper_of, sizes_in, squeezed
from workshops.paper.cards import Card
from workshops.paper.fitting import layouts
from workshops.paper.layout import DRAWING_LEAST_MM, FORMATS, SIZES
from workshops.paper.printing import print_cards
from workshops.stations.cautions import DEFER

NIGHTS = 20
PAPERS = ("letter", "a4")


def printed(cards: list[Card], paper: str) -> bytes:
    made = print_cards(a_night(a_shop(paper)), cards, PRINTED)
    assert made.pages == len(cards)
    return made.data


@pytest.mark.parametrize("seed", range(NIGHTS))
def test_a_random_card_has_everything_it_must_say_on_one_page(seed: int) -> None:
    card = a_card(random.Random(seed))
    (page,) = pages_of(printed([card], PAPERS[seed % 2]))
    assert lost(card, page) == []


def test_every_page_has_its_own_card_and_number() -> None:
    draw = random.Random(50)
    cards = [a_card(draw, kind=kind, full=0.2) for kind in ("drill", "weld", "fire_watch")]
    for number, page in enumerate(pages_of(printed(cards, "letter")), start=1):
        assert f"page{number}of3" in page
        assert [card for card in cards if not lost(card, page)] == [cards[number - 1]]


def lost(card: Card, page: str) -> list[str]:
    """What a card must say and its page does not."""
    return [said for said in must_say(card) if squeezed(said) not in page]


def must_say(card: Card) -> list[str]:
    """What may not be lost from a card."""
    told = [DEFER, "anybody may", "NC-31 rev C", "printed 14 Jan 2026 17:30", "January 2026"]
    told += [line.name for line in card.crew] + [row["text"] for row in card.cautions]
    told += [text for step in card.steps for text in step.values()] + card.checks
    told += [f"DO NOT OPEN YET: {card.trouble}"] if card.trouble else []
    return told + ([card.sparks] if card.sparks else [])


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("kind", ["roll", "weld", "bend"])
def test_the_fullest_card_is_still_one_page(kind: str, paper: str) -> None:
    card = a_card(random.Random(1), full=1, kind=kind)
    (page,) = pages_of(printed([card], paper))
    assert lost(card, page) == []


def test_a_usual_card_has_no_letter_under_nine_points_the_drawing_included() -> None:
    card = a_card(random.Random(3), full=0.3, kind="drill")
    assert min(sizes_in(printed([card], "letter"))) >= 8.99


def test_the_fullest_card_has_none_under_nine_points_outside_its_drawing() -> None:
    card = a_card(random.Random(1), full=1, kind="fire_watch")
    assert card.drawing == ""
    assert min(sizes_in(printed([card], "letter"))) >= 8.99


@pytest.mark.parametrize(("paper", "size"), [("letter", (612, 792)), ("a4", (595, 842))])
def test_the_page_is_the_paper_of_the_shop(paper: str, size: tuple[int, int]) -> None:
    assert paper_of(printed([a_card(random.Random(2), kind="tag")], paper)) == {size}


def test_sizes_never_go_below_nine_points_nor_the_drawing_below_its_least() -> None:
    assert min(min(size.steps, size.body) for size in SIZES) >= 9
    assert min(size.drawing_mm for size in SIZES) == DRAWING_LEAST_MM == 110


def test_layouts_come_roomiest_first_and_end_with_the_tightest() -> None:
    card = a_card(random.Random(4), kind="cut")
    sizes = [way.size for way in layouts(card, FORMATS["letter"])]
    assert sizes == list(SIZES[SIZES.index(sizes[0]) :])


def test_a_short_card_is_set_larger_than_a_full_one() -> None:
    short, full = (a_card(random.Random(5), full=much, kind="cut") for much in (0, 1))
    first, tight = (next(layouts(card, FORMATS["letter"])).size for card in (short, full))
    assert first.steps > tight.steps


def test_a_drawing_keeps_its_proportions() -> None:
    card = a_card(random.Random(6), kind="roll")
    assert card.drawing_ratio == pytest.approx(139.9 / 160, abs=0.01)
    assert replace(card, drawing="").drawing_ratio == 0
