"""One count is one row and one entry in the book; sent twice it counts once."""

from __future__ import annotations

from uuid import UUID

import pytest

from inventory.ledger.models import Entry
from inventory.ledger.queries import balance_of, check, on_hand, pieces_of
from inventory.measures.lengths import feet
from tests.factories import make_operation, make_station
from workshops.nights import actions
from workshops.nights.models import Aim, Night, Tally
from workshops.nights.refusals import NightRefused

pytestmark = pytest.mark.usefixtures("material")

KEY = UUID("7d2f7a52-6a3c-4a0e-8a0e-000000000001")


def count(scene, name: str = "drill", at: str = "19:00", **counted) -> Tally:
    return actions.tally(
        night=scene.night, operation=scene.operations[name], at=scene.at(at), by=None, **counted
    )


def test_a_count_posts_what_was_used_and_made(scene) -> None:
    row = count(scene, good=3)
    assert balance_of(scene.stock.post) == 3
    assert row.entry is not None
    assert not check(scene.shop)


def test_held_pieces_are_apart_and_scrap_is_used_up(scene) -> None:
    count(scene, good=1, hold=2, scrap=1)
    post = next(each for each in on_hand(scene.shop) if each.item == scene.stock.post)
    assert (post.good, post.hold) == (1, 2)
    # Two posts come from a stick, so the four took two sticks; two short ends remain.
    assert sorted(length > feet(7) for length, _ in pieces_of(scene.stock.tube)) == [False, True]
    assert not check(scene.shop)


def test_the_same_key_counts_once(scene) -> None:
    first = count(scene, good=3, client_key=KEY)
    again = count(scene, good=3, at="19:01", client_key=KEY)
    assert (again.pk, Tally.objects.count()) == (first.pk, 1)
    assert balance_of(scene.stock.post) == 3


def test_a_count_is_never_lost_for_want_of_booked_material(scene) -> None:
    row = count(scene, good=200)
    assert row.good == 200
    assert balance_of(scene.stock.post) == 200
    assert not check(scene.shop)


def test_taking_back_restores_the_book_and_erases_nothing(scene) -> None:
    before = balance_of(scene.stock.tube)
    row = count(scene, good=3)
    undone = actions.undo_tally(tally=row, at=scene.at("19:05"), by=None)
    assert balance_of(scene.stock.post) == 0
    assert balance_of(scene.stock.tube) == before
    assert undone.undoes == row
    assert Tally.objects.count() == 2


def test_taking_back_twice_takes_back_once(scene) -> None:
    row = count(scene, good=3)
    first = actions.undo_tally(tally=row, at=scene.at("19:05"), by=None)
    assert actions.undo_tally(tally=row, at=scene.at("19:06"), by=None) == first
    assert balance_of(scene.stock.post) == 0


def test_an_earlier_count_is_taken_back_though_its_drops_were_cut_since(scene) -> None:
    first = count(scene, good=3)
    later = count(scene, "weld", at="19:30", good=2)
    actions.undo_tally(tally=first, at=scene.at("19:40"), by=None)
    later.refresh_from_db()
    assert (balance_of(scene.stock.post), balance_of(scene.stock.head)) == (0, 2)
    # Two heads take four pieces of 20 in from one stick; no trace of the three posts remains.
    assert [number for _, number in pieces_of(scene.stock.tube)] == [19, 1]
    assert not Entry.objects.filter(corrects=later.entry).exists()
    assert not check(scene.shop)


def test_a_count_whose_pieces_were_used_is_not_taken_back(scene) -> None:
    first = count(scene, good=3)
    for name in ("weld", "roll", "tag"):
        count(scene, name, at="19:30", good=3)
    with pytest.raises(NightRefused, match=r"used since\. Take back the later counts first"):
        actions.undo_tally(tally=first, at=scene.at("19:40"), by=None)
    assert not Tally.objects.filter(undoes=first).exists()
    assert not check(scene.shop)


def test_an_undoing_is_not_undone(scene) -> None:
    undone = actions.undo_tally(tally=count(scene, good=1), at=scene.at("19:05"), by=None)
    with pytest.raises(NightRefused, match="count anew"):
        actions.undo_tally(tally=undone, at=scene.at("19:06"), by=None)


@pytest.mark.parametrize("counted", [{}, {"good": -1}, {"good": 2, "scrap": -1}])
def test_nothing_and_less_than_nothing_are_refused(scene, counted) -> None:
    with pytest.raises(NightRefused, match="Count at least one Make Post"):
        count(scene, **counted)
    assert not Tally.objects.exists()


def test_another_shops_work_is_not_counted_here(scene, other_shop) -> None:
    scene.operations["there"] = make_operation(make_station(other_shop))
    with pytest.raises(NightRefused, match="cannot be counted"):
        count(scene, "there", good=1)


def test_nothing_is_counted_on_a_cancelled_night(scene) -> None:
    scene.night.status = Night.Status.CANCELLED
    with pytest.raises(NightRefused, match="cannot be counted"):
        count(scene, good=1)


def test_a_paper_sheet_may_be_typed_in_after_the_night_is_over(scene) -> None:
    scene.night.status = Night.Status.CLOSED
    assert count(scene, good=2).good == 2


def test_a_finished_set_is_one_less_to_make_until_it_is_taken_back(scene) -> None:
    actions.set_aims(shop=scene.shop, wanted={scene.stock.complete.pk: 10})
    row = count(scene, "tag", good=4)
    assert Aim.objects.get().wanted == 6
    actions.undo_tally(tally=row, at=scene.at("19:05"), by=None)
    assert Aim.objects.get().wanted == 10


def test_more_sets_than_wanted_leave_nothing_to_make(scene) -> None:
    actions.set_aims(shop=scene.shop, wanted={scene.stock.complete.pk: 2})
    count(scene, "tag", good=5)
    assert Aim.objects.get().wanted == 0


def test_pieces_come_out_of_the_sticks_with_the_saw_cut(scene) -> None:
    count(scene, good=2)
    assert pieces_of(scene.stock.tube) == [(feet(20), 19), (feet(6) - 2 * 3_175, 1)]
