"""No pair is broken: the rule, by hand and for any numbers."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.materials.models import Item
from inventory.places.models import Place
from workshops.stations.geometry.matching import Matching
from workshops.stock.cut_over.fates import Fate, Lying, Mates, broken_pairs, refusals_of

RACK = Place(pk=1, name="Rack")
ITEMS = {name: Item(pk=n, name=name) for n, name in enumerate(("Post", "Stem", "Head", "Set"), 1)}
HOLDS = {"Post": (0, 1), "Stem": (1, 0), "Head": (1, 0), "Set": (1, 1)}
counts = st.integers(0, 40)


def lying(name: str, quantity: int) -> Lying:
    inner, outer = HOLDS[name]
    return Lying(ITEMS[name], RACK, "good", Decimal(quantity), "on the rack", (), inner, outer)


def mates(*, old_in_new: bool = False, new_in_old: bool = False, **elsewhere: bool) -> Mates:
    return Mates(Matching("stem", "post", old_in_new, new_in_old), "Stem", "Post", **elsewhere)


def broken(used: dict[str, int], with_mates: Mates | None) -> list[str]:
    spots = [lying(name, count) for name, count in used.items()]
    fates = {spot.key: Fate(spot.quantity, use_up=spot.quantity) for spot in spots}
    return broken_pairs(spots, fates, with_mates)


def test_equal_numbers_of_old_posts_and_old_heads_stay_together() -> None:
    assert broken({"Post": 7, "Head": 5, "Stem": 2}, mates()) == []


def test_posts_without_heads_are_refused_with_the_number() -> None:
    (says,) = broken({"Post": 12, "Head": 7}, mates())
    assert "12 old “Post”" in says
    assert "5 of them have none that matches" in says


def test_heads_without_posts_are_refused_too() -> None:
    (says,) = broken({"Post": 3, "Head": 7}, mates())
    assert "Rework or scrap 4 “Stem”" in says


@pytest.mark.parametrize(
    ("posts", "heads", "fits", "refused"),
    [(9, 4, {"new_in_old": True}, False), (4, 9, {"new_in_old": True}, True),
     (4, 9, {"old_in_new": True}, False), (9, 4, {"old_in_new": True}, True),
     (9, 4, {"outer_elsewhere": True}, False), (4, 9, {"inner_elsewhere": True}, False)],
)  # fmt: skip
def test_what_goes_together_with_the_new_needs_no_old_mate(posts, heads, fits, refused) -> None:
    assert bool(broken({"Post": posts, "Head": heads}, mates(**fits))) is refused


def test_a_complete_set_has_its_own_mate() -> None:
    assert broken({"Set": 9}, mates()) == []


def test_where_everything_goes_together_nothing_is_asked() -> None:
    assert broken({"Post": 12}, None) == []


@given(st.dictionaries(st.sampled_from(sorted(HOLDS)), st.tuples(counts, counts), min_size=1))
def test_what_is_let_through_leaves_no_old_post_or_stem_alone(drawn) -> None:
    spots = [lying(name, kept + gone) for name, (kept, gone) in drawn.items() if kept + gone]
    fates = {
        spot.key: Fate(spot.quantity, use_up=Decimal(drawn[spot.item.name][0]),
                       scrap=Decimal(drawn[spot.item.name][1]), reason="bent")
        for spot in spots
    }  # fmt: skip
    kept = {name: kept for name, (kept, _) in drawn.items()}
    posts, stems = kept.get("Post", 0), kept.get("Stem", 0) + kept.get("Head", 0)
    assert bool(broken_pairs(spots, fates, mates())) is (posts != stems)
    assert refusals_of(spots, fates) == {}


@pytest.mark.parametrize(
    ("fate", "says"),
    [
        (Fate(Decimal(9)), "say what becomes of them"),
        (Fate(Decimal(9), use_up=Decimal(4)), "9 lie there, and 4 were given a fate"),
        (Fate(Decimal(9), scrap=Decimal(9)), "say why"),
        (Fate(Decimal(9), use_up=Decimal(10), scrap=Decimal(-1)), "fewer than none"),
    ],
)
def test_what_is_not_decided_is_named(fate, says) -> None:
    spot = lying("Post", 9)
    assert says in refusals_of([spot], {spot.key: fate})[spot.key]
