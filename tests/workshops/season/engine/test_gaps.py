from dataclasses import replace

from tests.workshops.season.engine.winters import bare, night, person, whole_shop
from workshops.season.engine.gaps import gaps_of
from workshops.season.engine.problem import Arrival, Item, NightKind, Variant

HOT = (replace(bare().operations[0], hot=True),)


def test_a_whole_shop_has_no_gap():
    assert gaps_of(whole_shop()) == ()


def test_work_that_nobody_may_do_alone_is_named():
    learner = (person("Lena", learns=("turn",)),)
    assert gaps_of(bare(people=learner)) == ("Nobody may do turning alone.",)


def test_a_sign_off_that_has_lapsed_by_the_first_night_does_not_count():
    lapsed = (person("Ana", "turn", lapses={"turn": night().date}),)
    assert gaps_of(bare(people=lapsed)) == ("Nobody may do turning alone.",)


def test_hot_work_without_anyone_to_watch_is_named():
    found = gaps_of(bare(operations=HOT))
    assert found == ("Nobody holds the fire-watch sign-off, so there is no turning.",)


def test_work_that_no_night_is_open_to_is_named():
    straw = (night(kind=NightKind.STRAW),)
    people = (person("Ana", "turn", may_watch=True),)
    found = gaps_of(bare(operations=HOT, nights=straw, people=people))
    assert found == ("No night to come is open to turning.",)


def test_material_that_never_comes_is_named_until_it_is_ordered():
    items = (Item("rod", "rod"), Item("peg", "peg"))
    none = "There is no rod, none is on its way and nobody here makes it."
    assert gaps_of(bare(items=items)) == (none,)
    coming = (Arrival("rod", "2026-12-20", 10),)
    assert gaps_of(bare(items=items, arrivals=coming)) == ()


def test_work_that_no_set_needs_is_no_gap():
    spare = (Variant("rods", "rods", {"rod": 1}, target=5),)
    assert gaps_of(bare(people=(), variants=spare)) == ()


def test_a_winter_that_is_over_has_no_gap():
    assert gaps_of(bare(nights=(), people=())) == ()
