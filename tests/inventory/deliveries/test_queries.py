"""What came, whom to thank, and what of it is coated."""

from __future__ import annotations

from datetime import date

from inventory.deliveries import actions, queries
from inventory.deliveries.arrivals import Arrival, Measured
from inventory.ledger import actions as ledger
from inventory.materials.models import Item
from inventory.measures.lengths import feet
from tests.inventory.deliveries.conftest import Door
from tests.inventory.winter import AT

GALVANISED = Measured(finish="galvanised")


def coated(door: Door, **rest: object) -> list[Item]:
    return [row.item for row in queries.coated_of(door.stock.shop, **rest)]


def tubes(door: Door) -> Arrival:
    return door.tubes(4, measured=GALVANISED)


def test_a_new_shop_has_no_deliveries_letters_or_coated_metal(door: Door) -> None:
    shop = door.stock.shop
    found = [*queries.deliveries_of(shop), *queries.letters_due(shop), *queries.coated_of(shop)]
    assert found == []


def test_deliveries_come_with_all_they_brought_in_three_queries(
    door: Door, django_assert_num_queries
) -> None:
    for n in range(3):
        door.receive(door.tubes(n + 1), door.line(door.stock.straw, 1), order=door.order)
    with django_assert_num_queries(3):
        came = [row for each in queries.deliveries_of(door.stock.shop) for row in
                queries.came_with(each)]  # fmt: skip
        told = [(str(row.item), row.line.quantity, row.place, row.value) for row in came]
        assert not any(row.is_taken_back or row.is_coated for row in came)
    assert len(told) == 6


def test_another_shops_delivery_is_not_found(door: Door, other_shop) -> None:
    delivery = door.receive(door.tubes())
    assert queries.delivery_of(other_shop, delivery.pk) is None
    assert queries.delivery_of(door.stock.shop, delivery.pk) == delivery


def test_letters_are_due_until_they_are_sent_the_most_pressing_first(door: Door) -> None:
    shop = door.stock.shop
    late, soon = (
        door.receive(door.tubes(), is_donated=True, letter_due_on=date(2026, 2, day))
        for day in (20, 3)
    )
    door.receive(door.tubes())
    assert list(queries.letters_due(shop)) == [soon, late]
    assert queries.letters_overdue(shop, date(2026, 2, 4)) == 1
    actions.send_letter(delivery=soon, on=date(2026, 2, 4))
    assert list(queries.letters_due(shop)) == [late]
    assert list(queries.letters_sent(shop)) == [soon]


def test_an_order_on_its_way_shows_what_is_outstanding(door: Door) -> None:
    assert list(queries.orders_on_their_way(door.stock.shop)) == [door.order]
    door.receive(door.tubes(10), order=door.order)
    assert [row.item for row in queries.outstanding_of(door.order)] == [door.stock.rings]


def test_a_metal_is_coated_once_some_came_galvanised(door: Door) -> None:
    door.receive(door.tubes(4, measured=Measured(finish="bare")))
    assert coated(door) == []
    door.receive(tubes(door))
    (found,) = queries.coated_of(door.stock.shop)
    assert (found.item, found.finishes) == (door.stock.tube, "galvanised")
    assert coated(door, items=[door.stock.straw.pk]) == []


def test_it_is_not_coated_any_more_when_it_was_taken_back_or_found_gone(door: Door) -> None:
    for end in ("back", "gone"):
        row = door.receive(tubes(door)).received.get()
        assert coated(door) == [door.stock.tube]
        if end == "back":
            actions.take_back(row, reason="refused", by=None, at=AT)
        else:
            actions.say_coating_is_gone(received=row, by=None, at=AT)
        assert coated(door) == []


def test_pieces_cut_from_coated_tube_keep_it_coated_when_the_rack_is_empty(door: Door) -> None:
    door.receive(door.line(door.stock.tube, 1, feet(7), measured=GALVANISED))
    made = {"good": 1, "by": None, "at": AT, "night_key": "", "client_key": None}
    post = ledger.make(shop=door.stock.shop, recipe=door.stock.post.recipes.get(), **made)
    assert coated(door) == [door.stock.tube]
    ledger.correct(post, reason="was another", by=None, at=AT)
    ledger.scrap(
        shop=door.stock.shop, item=door.stock.tube, quantity=1, length_um=feet(7),
        place=door.stock.tube.home, reason="bent", by=None, at=AT,
    )  # fmt: skip
    assert coated(door) == []
