"""The back of a card is one side too, whole, and large enough to read."""

from __future__ import annotations

import random

import pytest
from django.template.loader import render_to_string

from inventory.places.models import Shop
from tests.workshops.paper.nights import PRINTED, a_card, a_night, a_shop
from tests.workshops.paper.reading import pages_of, sizes_in, squeezed
from workshops.common.pdf import Pdf, pdf_of_sheets
from workshops.paper.backs import told
from workshops.paper.cards import Card
from workshops.paper.printing import back_ways, dated, page_of, print_cards
from workshops.paper.second_language import language


def must_say(card: Card, code: str) -> list[str]:
    """What may not be lost from a back."""
    said = told(card, language(code))
    words = [said["anybody"], said["defer"], said["sparks"], "NC-31 rev C", *said["checks"]]
    words += [text for step in said["steps"] for text in step.values()]
    words += [text for pair in (*said["crew"], *said["sourced"]) for text in pair]
    return words + said["practice"] + [each.word for each in (*said["worn"], *said["unworn"])]


def the_back(card: Card, code: str, shop: Shop) -> Pdf:
    """A back alone, laid out as it is behind its card."""
    context = dated(shop, PRINTED) | {"night": a_night(shop), "n": 2, "m": 2}
    styles = render_to_string("paper/_cards.css", page_of(shop))
    return pdf_of_sheets([back_ways(card, code, context)], css=styles)


@pytest.mark.parametrize(("code", "paper"), [("es", "letter"), ("fr", "a4")])
def test_the_fullest_back_is_one_page_with_nothing_lost(code: str, paper: str) -> None:
    card = a_card(random.Random(1), full=1, kind="fire_watch")
    made = the_back(card, code, a_shop(paper))
    (back,) = pages_of(made.data)
    assert [said for said in must_say(card, code) if squeezed(said) not in back] == []
    assert min(sizes_in(made.data)) >= 8.99


def test_every_side_says_night_print_time_and_page_in_its_language() -> None:
    card = a_card(random.Random(3), full=0.1, kind="tag")
    front, back = pages_of(print_cards(a_night(a_shop()), [card], PRINTED, back="es").data)
    assert "page1of2" in front
    assert "página2de2" in back
    assert "miércoles14enero2026·impreso14Ene202617:30" in back
