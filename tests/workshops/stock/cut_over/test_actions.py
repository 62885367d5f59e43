"""Every fate is posted at once, once, and the book agrees before and after."""

from __future__ import annotations

from decimal import Decimal
from uuid import uuid4

import pytest
from django.db import transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from inventory.ledger.actions import make
from inventory.ledger.models import Entry
from inventory.ledger.queries import check, on_hand_of
from tests.inventory.winter import AT
from workshops.stations.models import BuildSheet
from workshops.stock.cut_over.actions import (
    CountsChanged,
    CutOverRefused,
    NothingBefore,
    PairsBroken,
    cut_over,
)
from workshops.stock.cut_over.fates import Fate
from workshops.stock.cut_over.lying import look_before
from workshops.stock.cut_over.queries import (
    changed_sheets,
    cut_overs_of,
    drawn_by,
    old_ones,
    rework_of,
    use_first_by_recipe,
)
from workshops.stock.models import CutOver


def fates_of(sheet: BuildSheet, **decided: tuple[int, int, int]) -> dict[str, Fate]:
    """(use up, rework, scrap) by item, the rest used up."""
    found = {}
    for spot in look_before(sheet).lying:
        up, rework, scrap = decided.get(spot.item.slug, (int(spot.quantity), 0, 0))
        found[spot.key] = Fate(
            spot.quantity, Decimal(up), Decimal(rework), Decimal(scrap), reason="too narrow"
        )
    return found


def decide(sheet: BuildSheet, **decided: tuple[int, int, int]) -> CutOver:
    return cut_over(
        sheet=sheet, fates=fates_of(sheet, **decided), by=None, at=AT, client_key=uuid4()
    )


def there(shift, name: str) -> tuple[Decimal, Decimal]:
    found = on_hand_of(shift.items[name])
    return found.good, found.hold


@pytest.fixture
def changed(shift) -> BuildSheet:
    """Twelve posts and seven heads of the old tubes, and the new drawing in force."""
    shift.lay("post", 12)
    shift.lay("head", 7)
    return shift.other_tube()


def test_pairs_stay_the_rest_goes_on_hold_or_out(shift, changed) -> None:
    row = decide(changed, post=(7, 2, 3), head=(7, 0, 0))
    assert there(shift, "post") == (7, 2)
    assert there(shift, "head") == (7, 0)
    reasons = set(Entry.objects.filter(kind__in=("scrap", "hold")).values_list("reason", flat=True))
    assert reasons == {"rev B came into force: too narrow", "rework to rev B: too narrow"}
    assert list(cut_overs_of(changed)) == [row]
    assert check(shift.shop) == ()


def test_five_posts_without_a_head_are_refused_and_nothing_moves(shift, changed) -> None:
    before = Entry.objects.count()
    with pytest.raises(PairsBroken, match="5 of them"):
        decide(changed)
    assert (Entry.objects.count(), CutOver.objects.count()) == (before, 0)


def test_a_count_that_changed_meanwhile_is_looked_at_again(shift, changed) -> None:
    fates = fates_of(changed, post=(7, 0, 5))
    shift.lay("post", 1)
    with pytest.raises(CountsChanged):
        cut_over(sheet=changed, fates=fates, by=None, at=AT, client_key=uuid4())
    assert there(shift, "post") == (13, 0)


def test_the_same_press_is_one_cut_over(shift, changed) -> None:
    fates, key = fates_of(changed, post=(7, 0, 5)), uuid4()
    first, second = (
        cut_over(sheet=changed, fates=fates, by=None, at=AT, client_key=key) for _ in range(2)
    )
    assert first == second
    assert there(shift, "post") == (7, 0)


def test_a_spot_without_a_fate_is_named(shift, changed) -> None:
    with pytest.raises(CutOverRefused) as refused:
        decide(changed, post=(0, 0, 0))
    assert list(refused.value.spots.values()) == ["Post, Rack: say what becomes of them."]


def test_where_nothing_was_before_nothing_is_decided(shift) -> None:
    with pytest.raises(NothingBefore):
        cut_over(sheet=shift.sheet, fates={}, by=None, at=AT, client_key=uuid4())
    with pytest.raises(NothingBefore, match="nothing to decide"):
        decide(shift.other_tube())


def test_what_is_on_hold_already_is_on_the_rework_list_and_moves_no_more(shift) -> None:
    shift.lay("stem", 4, held=4)
    sheet = shift.other_tube()
    entries = Entry.objects.count()
    decide(sheet, stem=(0, 4, 0))
    assert Entry.objects.count() == entries
    assert [line.rework for line in rework_of(shift.items["stem"])] == [4]


def test_old_ones_go_first_and_are_told_until_they_are_gone(shift, changed) -> None:
    decide(changed, post=(7, 0, 5))
    shift.lay("bar", 9)
    (post,) = old_ones(shift.shop, [shift.items["post"].pk])
    assert str(post) == "Use up first: 7 Post by rev A"
    recipe = shift.items["set"].recipes.get()
    assert set(use_first_by_recipe(shift.shop)[recipe.pk]) == {
        "Use up first: 7 Post by rev A.", "Use up first: 7 Head by rev A.",
    }  # fmt: skip
    for made, left in ((4, {3}), (3, set())):
        make(shop=shift.shop, recipe=recipe, good=made, by=None, at=AT)
        assert {each.left for each in old_ones(shift.shop)} == left
    assert use_first_by_recipe(shift.shop) == {}


def test_the_drawings_of_an_item_and_the_changed_sheets_are_found(shift, changed) -> None:
    assert drawn_by(shift.items["post"]) == [changed]
    (row,) = changed_sheets(shift.shop)
    assert (row, row.decided_at) == (changed, None)
    decide(changed, post=(7, 5, 0))
    assert changed_sheets(shift.shop)[0].decided_at == AT


pieces = st.tuples(st.integers(0, 6), st.integers(0, 6), st.integers(0, 6))


@pytest.fixture
def bare(shift) -> BuildSheet:
    """The new drawing in force, and nothing made to the old one yet."""
    return shift.other_tube()


@settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(posts=pieces, heads=pieces)
def test_any_fates_break_no_pair_and_the_book_agrees(bare, shift, posts, heads) -> None:
    decided = {name: made for name, made in (("post", posts), ("head", heads)) if sum(made)}
    with transaction.atomic():  # taken back after each drawing of numbers
        for name, made in decided.items():
            shift.lay(name, sum(made))
        if refused := is_refused(bare, decided):
            expected = {name: (sum(made), 0) for name, made in decided.items()}
        else:
            expected = {name: made[:2] for name, made in decided.items()}
        assert refused is (bool(decided) and posts[0] != heads[0])
        assert {name: there(shift, name) for name in decided} == expected
        assert check(shift.shop) == ()
        transaction.set_rollback(True)


def is_refused(sheet: BuildSheet, decided: dict[str, tuple[int, int, int]]) -> bool:
    try:
        decide(sheet, **decided)
    except PairsBroken:
        return True
    except NothingBefore:
        assert not decided
    return False
