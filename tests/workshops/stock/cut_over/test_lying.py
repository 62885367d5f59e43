"""What lies there by the old drawing, and what changed in numbers."""

from __future__ import annotations

import pytest

from inventory.measures.lengths import feet, inches
from tests.factories import make_sheet
from tests.workshops.stock.cut_over.scene import PIN
from workshops.stations.actions import put_in_force
from workshops.stations.models import SheetPart
from workshops.stock.cut_over.lying import look_before


def names(look) -> set[str]:
    return {spot.item.slug for spot in look.lying}


@pytest.fixture
def full(shift):
    """Some of everything, a head on hold, two sets on the truck."""
    for name, count in {"post-cut": 3, "post": 12, "stem": 2, "head": 7, "bar": 5}.items():
        shift.lay(name, count)
    shift.lay("head", 1, held=1)
    shift.lay("set", 2, place=shift.yard)
    return shift


def test_a_first_revision_has_nothing_before_it(shift) -> None:
    assert look_before(shift.sheet) is None


def test_a_draft_has_nothing_to_decide(shift) -> None:
    assert look_before(make_sheet(shift.shop)) is None


def test_a_longer_post_touches_its_blank_and_the_set_and_no_head(full) -> None:
    look = look_before(full.change(post={"length_um": feet(7) + inches(6)}))
    assert names(look) == {"post-cut", "post", "set"}
    (change,) = look.changes.parts
    assert change.words == ("6 in more: 90 in long instead of 84 in",)
    assert look.mates is None


def test_a_hole_that_moved_leaves_the_blank_as_good_as_before(full) -> None:
    moved = [PIN[0] | {"from_end_um": inches(7)}]
    look = look_before(full.change(post={"holes": moved}))
    assert names(look) == {"post", "set"}
    assert "7/16 in at 7 in instead of 7/16 in at 6 in" in look.changes.parts[0].words[0]


def test_a_new_name_of_a_part_changes_nothing(full) -> None:
    look = look_before(full.change(post={"name": "Long post", "end_name": "upper end"}))
    assert look.changes.is_nothing
    assert look.lying == ()


def test_other_tubes_touch_everything_and_ask_for_pairs(full) -> None:
    look = look_before(full.other_tube())
    assert names(look) == {"post-cut", "post", "stem", "head", "set"}
    assert (look.mates.matching.old_in_new, look.mates.matching.new_in_old) == (False, False)
    of = {spot.item.slug: (spot.inner, spot.outer) for spot in look.lying}
    assert of == {"post-cut": (0, 0), "post": (0, 1), "stem": (1, 0), "head": (1, 0), "set": (1, 1)}


def test_held_and_loaded_ones_are_told_apart(full) -> None:
    look = look_before(full.other_tube())
    held = [spot for spot in look.lying if spot.is_held]
    assert [(spot.item.slug, spot.quantity) for spot in held] == [("head", 1)]
    away = [spot.item.slug for spot in look.lying if spot.state.startswith("away")]
    assert away == ["set"]


def test_a_parts_list_that_still_cuts_the_old_length_is_named(full) -> None:
    look = look_before(full.change(post={"length_um": feet(8)}))
    assert any("still cuts 84 in; the drawing now has 96 in" in words for words in look.to_mend)


def test_another_drawing_that_keeps_the_old_part_is_named(full) -> None:
    other = make_sheet(full.shop, name="Long", drawing_number="NC-2", set_item=full.items["set"])
    SheetPart.objects.create(sheet=other, part=full.parts["stem"])
    put_in_force(sheet=other, on="2025-11-01", by=None)
    look = look_before(full.other_tube())
    stem = next(spot for spot in look.lying if spot.item.slug == "stem")
    assert stem.also_on == ("NC-2 rev A",)
    assert look.mates.inner_elsewhere
    assert not look.mates.outer_elsewhere


@pytest.mark.parametrize("times", [1, 2])
def test_the_look_takes_as_many_queries_whatever_lies_there(
    full, django_assert_max_num_queries, times
) -> None:
    sheet = full.other_tube()
    for n in range(6 * times):
        full.lay("head", 1, place=full.yard if n % 2 else full.rack)
    with django_assert_max_num_queries(9):
        look_before(sheet)


def test_the_operation_of_the_old_revision_follows_the_new_one(full) -> None:
    sheet = full.other_tube()
    full.weld.refresh_from_db()
    assert full.weld.sheet == sheet
