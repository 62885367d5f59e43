"""The weld card warns of coated metal among what its parts are cut from, and of no other."""

from __future__ import annotations

import random
from dataclasses import replace
from decimal import Decimal
from uuid import uuid4

import pytest

from inventory.deliveries.actions import Arrival, Measured, receive, say_coating_is_gone
from inventory.deliveries.models import Delivery
from inventory.deliveries.queries import coated_of
from inventory.materials.models import Item
from inventory.measures.lengths import feet
from inventory.places.models import Shop
from tests.inventory.winter import AT
from tests.workshops.paper.nights import PRINTED, a_card, a_night, a_shop
from tests.workshops.paper.reading import pages_of, squeezed
from tests.workshops.stock.sheets import Drawn, make_drawn
from workshops.paper.cards import cards_for
from workshops.paper.coating import coating_cautions
from workshops.paper.printing import print_cards
from workshops.stations.guidance.zinc import zinc_words
from workshops.stations.models import BuildSheet, Station
from workshops.stations.queries import sheets_of

MIND = {"text": "Mind the step.", "source": "b"}


@pytest.fixture
def drawn(shop: Shop) -> Drawn:
    return make_drawn(shop)


def bring(item: Item, finish: str) -> Delivery:
    line = Arrival(
        item=item, quantity=Decimal(2), length_um=feet(20), measured=Measured(finish=finish)
    )  # fmt: skip
    return receive(
        shop=item.shop, source="Ash Farm", is_donated=True, lines=[line], by=None, at=AT,
        client_key=uuid4(),
    )  # fmt: skip


def said(drawn: Drawn, kind: str = "weld") -> list[str]:
    shop = drawn.sheet.shop
    rows = coating_cautions(Station(kind=kind), sheets_of(shop), coated_of(shop))
    return [row["text"] for row in rows]


def test_bare_stock_needs_no_word(drawn: Drawn) -> None:
    bring(drawn.rod, "bare")
    assert said(drawn) == []


def test_galvanised_rod_is_told_with_what_zinc_does_and_its_source(drawn: Drawn) -> None:
    bring(drawn.rod, "galvanised")
    (text,) = said(drawn)
    assert text.startswith("GALVANISED STOCK IS HERE: Rod. Zinc smokes white in the arc")


def test_each_coating_is_told_once_with_every_metal(drawn: Drawn) -> None:
    for item, finish in ((drawn.rod, "painted"), (drawn.stem_tube, "painted")):
        bring(item, finish)
    bring(drawn.rod, "galvanised")
    zinc, paint = said(drawn)
    assert zinc.startswith("GALVANISED STOCK IS HERE: Rod.")
    assert "PAINTED STOCK IS HERE: Rod, Stem tube." in paint
    assert "lead" in paint


def test_metal_that_nobody_welds_is_not_on_the_card(drawn: Drawn) -> None:
    bring(drawn.post_tube, "galvanised")
    assert said(drawn) == []


@pytest.mark.parametrize("kind", ["cut", "drill", "bend", "bolt", "fire_watch"])
def test_only_where_an_arc_or_a_spot_runs(drawn: Drawn, kind: str) -> None:
    bring(drawn.rod, "galvanised")
    assert said(drawn, kind) == []
    assert said(drawn, "spot_weld") != []


def test_the_warning_ends_when_somebody_finds_none_left(drawn: Drawn) -> None:
    row = bring(drawn.rod, "galvanised").received.get()
    say_coating_is_gone(received=row, by=None, at=AT)
    assert said(drawn) == []


def test_of_a_sheet_that_cannot_be_read_every_part_may_be_welded(drawn: Drawn) -> None:
    BuildSheet.objects.update(welds=[{"part": "nobody"}])
    bring(drawn.post_tube, "galvanised")
    assert len(said(drawn)) == 1


def test_the_card_of_the_night_carries_it_first(night, scene, drawn: Drawn) -> None:
    bring(drawn.rod, "galvanised")
    Station.objects.filter(pk__in=[c.station.pk for c in cards_for(night)]).update(kind="weld")
    Station.objects.update(cautions=[{"text": zinc_words(), "source": "a"}, MIND])
    card = cards_for(night)[0]
    assert card.cautions[0]["text"].startswith("GALVANISED STOCK IS HERE: Rod.")
    assert card.cautions[1:] == [MIND]


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_the_fullest_weld_card_still_holds_it_on_one_page(drawn: Drawn, paper: str) -> None:
    bring(drawn.stem_tube, "galvanised")
    bring(drawn.rod, "painted")
    shop = drawn.sheet.shop
    rows = coating_cautions(Station(kind="weld"), sheets_of(shop), coated_of(shop))
    card = a_card(random.Random(1), full=1, kind="weld")
    card = replace(card, cautions=[*rows, *card.cautions])
    pages = pages_of(print_cards(a_night(a_shop(paper)), [card], PRINTED).data)
    assert len(pages) == 1
    assert squeezed("GALVANISED STOCK IS HERE: Stem tube") in pages[0]
    assert squeezed("PAINTED STOCK IS HERE: Rod") in pages[0]
