"""What lies in the rack becomes sticks and drops; what is wanted becomes pieces."""

from __future__ import annotations

from decimal import Decimal

from inventory.cutting.engine.solve import solve
from inventory.cutting.translate import problem_of, saved_money
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


def test_a_list_may_be_sheared_where_the_item_is_sawn(shop: Shop) -> None:
    tube = make_item(shop, kind=Item.Kind.METAL)
    assert problem_of(tube, [("Post", 1, 1)], []).kerf == inches("1/8")
    assert problem_of(tube, [("Post", 1, 1)], [], kerf_um=0).kerf == 0


def test_what_mixing_saves_is_told_in_money_when_the_price_is_known(shop: Shop) -> None:
    """24 sets take six sticks either way; 300 take 75 set by set and 65 mixed."""
    tube = make_item(shop, kind=Item.Kind.METAL, unit_price=Decimal("21.40"))
    pieces = [("Stem", inches(34), 24), ("Bar", inches(16), 24)]
    plan = solve(problem_of(tube, pieces, [(feet(20), 9)]))
    assert plan.set_by_set is not None
    assert (plan.set_by_set.sticks, plan.stick_count) == (6, 6)
    assert saved_money(plan, tube) == []
    pieces = [("Stem", inches(34), 300), ("Bar", inches(16), 300)]
    plan = solve(problem_of(tube, pieces, [(feet(20), 80)]))
    # ten sticks of 240 in at 21.40 each
    assert saved_money(plan, tube) == ["At 21.40 USD a stick that is 214.00 USD of metal."]
    tube.unit_price = None
    assert saved_money(plan, tube) == []
