"""What lies in the rack becomes sticks and drops; what is wanted becomes pieces."""

from __future__ import annotations

from inventory.cutting.translate import problem_of
from inventory.materials.models import Item
from inventory.measures.lengths import feet, inches
from inventory.places.models import Shop
from tests.factories import make_item


def test_shorter_than_bought_is_a_drop(shop: Shop) -> None:
    tube = make_item(shop, kind=Item.Kind.METAL)
    sticks = problem_of(tube, [("Post", feet(7), 1)], [(feet(20), 3), (feet(9), 1)]).sticks
    assert [(s.label, s.count, s.is_drop) for s in sticks] == [
        ("240 in stick", 3, False),
        ("108 in drop", 1, True),
    ]


def test_two_lengths_that_read_alike_keep_two_names(shop: Shop) -> None:
    tube = make_item(shop, kind=Item.Kind.METAL)
    rack = [(inches(30), 1), (inches(30) + 100, 1)]
    labels = [stick.label for stick in problem_of(tube, [("Post", 1, 1)], rack).sticks]
    assert labels == ["30 in drop", "30 in drop (762.000 mm)"]


def test_one_name_with_two_lengths_gets_the_length_behind_it(shop: Shop) -> None:
    tube = make_item(shop, kind=Item.Kind.METAL)
    pieces = [("Post", feet(7), 2), ("Post", feet(9), 1), ("Post", feet(7), 1)]
    assert [(p.label, p.count) for p in problem_of(tube, pieces, []).pieces] == [
        ("Post, 84 in", 3),
        ("Post, 108 in", 1),
    ]


def test_a_trim_thinner_than_the_blade_becomes_one_cut(shop: Shop) -> None:
    tube = make_item(shop, kind=Item.Kind.METAL, kerf_um=3_000, trim_um=1_000)
    assert problem_of(tube, [("Post", 1, 1)], []).trim == 3_000
    bare = make_item(shop, kind=Item.Kind.METAL, kerf_um=3_000, trim_um=0)
    assert problem_of(bare, [("Post", 1, 1)], []).trim == 0
