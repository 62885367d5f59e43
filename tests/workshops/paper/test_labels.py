"""Labels: what stands on them, where they stand, and where their mark leads."""

from __future__ import annotations

import re
from io import BytesIO

import pytest
import segno
from django.utils import timezone
from pypdf import PdfReader

from inventory.measures.lengths import feet, inches
from tests import factories
from tests.inventory.winter import Stock, make_stock
from tests.workshops.paper.reading import pages_of, paper_of, sizes_in, squeezed
from workshops.paper.actions import make_labels
from workshops.paper.label_sheets import SIZES, grid_of, print_labels, qr_of
from workshops.paper.labels import MOST, Label, labels_for
from workshops.paper.refusals import PaperRefused

SITE = "http://bench.example:8000/"
BIN, RACK, DROP = (SIZES[key] for key in ("bin", "rack", "drop"))


@pytest.fixture
def stock(shop, clock) -> Stock:
    stock = make_stock(shop)
    stock.bring(stock.tube, 2, feet(20))
    stock.bring(stock.tube, 2, inches("46 5/8"))
    return stock


def some(count: int) -> list[Label]:
    return [Label(f"Bin {n}", ("kept at Rack",), "", f"{SITE}x/{n}/") for n in range(count)]


def made(shop, labels, size=BIN, start=1) -> bytes:
    return print_labels(shop, labels, size=size, start=start, at=timezone.now()).data


def modules_of(svg: str) -> set[tuple[int, int]]:
    """The dark squares of a drawn mark, column and row, from its path of strokes."""
    dark, x, y = set(), 0, 0
    path = re.search(r'd="([^"]+)"', svg)[1]
    for letter, first, second in re.findall(r"([Mmh])(-?[\d.]+)(?:[ ,]?(-?[\d.]+))?", path):
        if letter == "h":
            dark |= {(x + step, y) for step in range(int(first))}
            x += int(first)
        elif letter == "M":
            x, y = int(float(first)), int(float(second))
        else:
            x, y = x + int(float(first)), y + int(float(second))
    return dark


def test_a_mark_holds_just_the_squares_of_its_address() -> None:
    address = f"{SITE}teal-point/stock/items/tube/"
    expected = segno.make(address, error="m", micro=False).matrix
    dark = {(x + 4, y + 4) for y, row in enumerate(expected) for x, bit in enumerate(row) if bit}
    assert modules_of(qr_of(address)) == dark
    assert modules_of(qr_of(address + "x")) != dark


def test_an_item_says_where_it_lives_in_what_it_is_counted_and_leads_to_its_page(stock) -> None:
    stock.tube.bought_length_um = feet(20)
    stock.tube.save()
    (label,) = labels_for(stock.shop, "some", site=SITE, items=[stock.tube.pk])
    assert label.title == "Tube"
    assert label.lines == ("kept at Yard", "pieces by length", "bought 240 in long")
    assert label.address == "http://bench.example:8000/teal-point/stock/items/tube/"
    assert "<svg" in label.mark


def test_a_place_brings_the_labels_of_what_is_kept_there(stock) -> None:
    labels = labels_for(stock.shop, "place", site=SITE, place=stock.straw.home.pk)
    assert [label.title for label in labels] == ["Shelf", "Rings", "Straw"]
    page = f"http://bench.example:8000/teal-point/stock/places/{stock.straw.home.pk}/"
    assert labels[0].address == page


def test_every_drop_gets_a_label_with_its_length_and_place(stock) -> None:
    labels = labels_for(stock.shop, "drops", site=SITE)
    assert [label.title for label in labels] == ["46\u00a05/8\u00a0in"] * 2
    assert labels[0].lines == ("Tube", "at Yard")


def test_lengths_are_in_the_shops_units(stock) -> None:
    stock.shop.units = "mm"
    stock.shop.save()
    assert labels_for(stock.shop, "drops", site=SITE)[0].title == "1184.3\u00a0mm"


def test_nothing_of_another_shop_gets_a_label(stock, other_shop) -> None:
    foreign = factories.make_item(other_shop)
    for asked in ({"what": "some", "items": [foreign.pk]},
                  {"what": "place", "place": foreign.home.pk}):  # fmt: skip
        with pytest.raises(PaperRefused, match="Nothing was chosen"):
            labels_for(stock.shop, asked.pop("what"), site=SITE, **asked)


def test_too_many_labels_are_refused(shop) -> None:
    for n in range(MOST + 1):
        shop.place_set.create(name=f"Bin {n}")
    with pytest.raises(PaperRefused, match="401 labels are too many at once"):
        labels_for(shop, "places", site=SITE)


def test_the_labels_fit_between_the_margins_of_both_papers() -> None:
    told = {(size.key, paper): (grid_of(size, paper).columns, grid_of(size, paper).rows)
            for size in SIZES.values() for paper in ("letter", "a4")}  # fmt: skip
    assert told == {
        ("bin", "letter"): (2, 5), ("bin", "a4"): (2, 5), ("rack", "letter"): (1, 3),
        ("rack", "a4"): (1, 3), ("drop", "letter"): (3, 9), ("drop", "a4"): (3, 9),
    }  # fmt: skip


def test_no_two_labels_of_a_sheet_lie_on_each_other() -> None:
    for size in SIZES.values():
        grid = grid_of(size, "letter")
        spots = {grid.spot(n) for n in range(grid.on_a_sheet)}
        assert len(spots) == grid.on_a_sheet
        assert max(x for x, _ in spots) + size.wide_mm <= 215.9 - 8.5
        assert max(y for _, y in spots) + size.tall_mm <= 279.4 - 8.5


def test_a_part_used_sheet_goes_on_where_it_was_cut(shop) -> None:
    assert len(PdfReader(BytesIO(made(shop, some(10)))).pages) == 1
    pages = pages_of(made(shop, some(10), start=4))
    assert [len(re.findall("keptatRack", page)) for page in pages] == [7, 3]
    assert "Bin0" in pages[0]


def test_labels_are_printed_on_the_shops_paper_in_letters_that_can_be_read(shop) -> None:
    assert paper_of(made(shop, some(1))) == {(612, 792)}
    shop.paper_size = "a4"
    for size in SIZES.values():
        pdf = made(shop, [Label("Single-post set, long post", ("kept at Yard",), "", SITE)], size)
        assert paper_of(pdf) == {(595, 842)}
        assert min(sizes_in(pdf)) >= 9


def test_the_whole_name_stands_on_the_label_however_long(shop) -> None:
    name = "Height pin three eighths with its clip and chain, galvanised"
    for size in SIZES.values():
        assert squeezed(name) in pages_of(made(shop, [Label(name, (), "", SITE)], size))[0]


def test_short_names_are_large_and_a_wide_word_is_never_broken() -> None:
    assert RACK.points_for("Yard") == RACK.largest
    assert BIN.points_for("Consumables") < BIN.points_for("Loft")
    assert DROP.points_for("Antidisestablishmentarianism") == DROP.smallest


def test_labels_are_kept_as_a_paper(shop, clock) -> None:
    paper = make_labels(shop=shop, labels=some(12), size="bin", start=1, at=timezone.now())
    assert (paper.kind, paper.pages) == ("labels", 2)
    assert "labels-2026-01-14" in paper.file.name
