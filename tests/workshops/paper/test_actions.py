"""Papers as they are kept: their pages, their words, and what is refused."""

from __future__ import annotations

import pytest

from inventory.cutting.actions import Asked
from inventory.cutting.actions import make_cut_list as work_out_cuts
from inventory.cutting.models import CutListRun
from inventory.measures.lengths import feet
from inventory.places.models import Shop
from tests import factories
from tests.conftest import NOW
from tests.workshops.nights.scene import Scene
from tests.workshops.paper.reading import pages_of, squeezed
from workshops.nights.models import Night
from workshops.paper import actions
from workshops.paper.cards import cards_for
from workshops.paper.cut_lists import BOXES_IN_A_ROW, boxes
from workshops.paper.models import Paper
from workshops.paper.refusals import PaperRefused
from workshops.season.actions import work_out_outlook
from workshops.season.models import OutlookRun, Target
from workshops.season.showing import stored


def words_of(paper: Paper) -> list[str]:
    with paper.file.open("rb") as kept:
        return pages_of(kept.read())


def test_cards_are_kept_with_as_many_pages_as_stations_open(night: Night) -> None:
    paper = actions.make_cards(night=night, at=NOW)
    assert paper.pages == len(words_of(paper)) == len(cards_for(night)) > 1
    assert (paper.night, paper.kind, paper.made_at) == (night, Paper.Kind.CARDS, NOW)


def test_each_card_names_its_station_its_crew_and_the_time_of_printing(night: Night) -> None:
    pages = words_of(actions.make_cards(night=night, at=NOW))
    for card, page in zip(cards_for(night), pages, strict=True):
        told = [card.station.name, *(line.name for line in card.crew), "printed 14 Jan 2026 18:00"]
        assert [each for each in told if squeezed(each) not in page] == []


def test_cards_before_anybody_is_placed_are_refused_and_nothing_is_kept(scene: Scene) -> None:
    with pytest.raises(PaperRefused, match="Place everybody first"):
        actions.make_cards(night=scene.night, at=NOW)
    assert not Paper.objects.exists()


def test_a_cut_list_says_pieces_marks_kerf_and_what_is_missing(run: CutListRun) -> None:
    paper = actions.make_cut_list(runs=[run], at=NOW)
    told = "".join(words_of(paper))
    missing = run.result["missing"][0]
    says = ["Cut list, Wednesday 14 January", "Each saw cut takes 1/8 in", "Saw at", "Post", "Stem"]
    says += [f"MISSING: {missing['count']} × {missing['piece']}", "If something looks wrong"]
    assert [each for each in says if squeezed(each) not in told] == []


def test_a_cut_list_of_tonight_belongs_to_tonight(run: CutListRun, scene: Scene) -> None:
    assert actions.make_cut_list(runs=[run], at=NOW).night == scene.night


def test_metals_follow_one_another_on_one_paper(run: CutListRun, shop: Shop) -> None:
    rod = factories.make_item(shop, name="Round rod", kind="metal")
    other = work_out_cuts(shop=shop, item=rod, pieces=[("Hook", feet(1), 2)], by=None)
    told = "".join(words_of(actions.make_cut_list(runs=[run, other], at=NOW)))
    assert told.index("Tube") < told.index("Roundrod")


def test_no_cut_list_is_refused_with_where_to_make_one() -> None:
    with pytest.raises(PaperRefused, match="Make one under Stock"):
        actions.make_cut_list(runs=[], at=NOW)


def test_cut_lists_of_two_shops_are_not_put_on_one_paper(run: CutListRun, other_shop: Shop) -> None:
    rod = factories.make_item(other_shop, kind="metal")
    theirs = work_out_cuts(shop=other_shop, item=rod, pieces=[("Hook", feet(1), 2)], by=None)
    with pytest.raises(PaperRefused, match="different shops"):
        actions.make_cut_list(runs=[run, theirs], at=NOW)


@pytest.mark.parametrize(("times", "rows"), [(1, 1), (30, 1), (31, 2), (61, 3)])
def test_every_stick_has_a_box_of_its_own_to_tick(times: int, rows: int) -> None:
    path, tall_mm = boxes(times)
    assert path.count("M") == times
    assert len(set(path.split("z"))) - 1 == times
    assert (tall_mm, BOXES_IN_A_ROW) == (6 * rows, 30)


@pytest.fixture
def outlook(night: Night, scene: Scene) -> OutlookRun:
    winter = factories.make_winter(night.shop)
    Target.objects.create(winter=winter, item=scene.stock.complete, new=10)
    return work_out_outlook(winter=winter, today=night.date, by=None)


def test_the_outlook_page_is_one_page_with_every_sentence(outlook: OutlookRun) -> None:
    (page,) = words_of(actions.make_outlook_page(run=outlook, at=NOW))
    said = [*stored(outlook).explain(), "A band is not a promise"]
    assert [each for each in said if squeezed(each) not in page] == []


def test_the_outlook_picture_is_kept_as_a_drawing(outlook: OutlookRun) -> None:
    paper = actions.make_outlook_picture(run=outlook, at=NOW)
    with paper.file.open("rb") as kept:
        assert kept.read().startswith(b"<svg")
    assert paper.pages == 1


def test_boxes_of_sticks_that_are_cut_are_crossed() -> None:
    open_box, crossed = boxes(1, 0)[0], boxes(1, 1)[0]
    assert crossed.startswith(open_box)
    assert crossed.count("l50") == 2
    assert boxes(7, 3)[0].count("l50 50") == 3


def test_one_metal_sheared_and_sawn_is_told_apart(run: CutListRun, shop: Shop) -> None:
    pieces = [("Hook", feet(1), 2)]
    sheared = work_out_cuts(
        shop=shop, item=run.item, pieces=pieces, by=None, asked=Asked(kerf_um=0)
    )
    told = "".join(words_of(actions.make_cut_list(runs=[run, sheared], at=NOW)))
    assert squeezed("Tube, sawn") in told
    assert squeezed("Tube, sheared") in told
