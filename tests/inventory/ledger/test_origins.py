"""Every piece on a shelf leads back to the delivery it came with, through making too."""

from __future__ import annotations

from decimal import Decimal

from django.db import connection
from django.test.utils import CaptureQueriesContext

from inventory.ledger import actions
from inventory.ledger.models import Entry
from inventory.ledger.origins import Batch, origins_of
from inventory.ledger.refusals import plain
from inventory.materials.models import Item
from inventory.measures.lengths import feet, inches
from tests.factories import make_item, make_recipe
from tests.inventory.ledger.conftest import AT, Bench


def shown(batches: tuple[Batch, ...]) -> list[tuple[str, set[str]]]:
    """How many of each batch, with the names of the deliveries behind it."""
    return [(plain(batch.quantity), names(batch)) for batch in batches]


def names(batch: Batch) -> set[str]:
    """Who brought what stands behind the batch; the kind of entry for a count."""
    return {
        each.entry.goods_in.source if each.entry.kind == "goods_in" else each.entry.kind
        for each in batch.sources
    }


def used(bench: Bench, item: Item, quantity: int) -> Entry:
    lines = [
        actions.NewLine(item, "shelf", Decimal(-quantity), item.home),
        actions.NewLine(item, "used", Decimal(quantity)),
    ]
    return actions.post(shop=bench.shop, kind="used", lines=lines, by=None, at=AT)


def test_of_nothing_there_is_nothing_to_tell(bench: Bench) -> None:
    assert origins_of(bench.bolt).batches == ()


def test_what_came_first_went_first(bench: Bench) -> None:
    bench.bring(bench.bolt, 5, source="Alder")
    bench.bring(bench.bolt, 5, source="Birch")
    used(bench, bench.bolt, 7)
    assert shown(origins_of(bench.bolt).batches) == [("3", {"Birch"})]
    bench.bring(bench.bolt, 2, source="Cedar")
    assert shown(origins_of(bench.bolt).batches) == [("2", {"Cedar"}), ("3", {"Birch"})]


def test_carrying_and_holding_change_nothing(bench: Bench) -> None:
    bench.bring(bench.bolt, 5, source="Alder")
    usual = {"shop": bench.shop, "item": bench.bolt, "by": None, "at": AT}
    actions.move(quantity=Decimal(2), source=bench.shelf, target=bench.rack, **usual)
    actions.hold(quantity=Decimal(1), place=bench.rack, reason="bent", **usual)
    assert shown(origins_of(bench.bolt).batches) == [("5", {"Alder"})]


def test_a_find_is_named_as_a_count(bench: Bench) -> None:
    bench.bring(bench.bolt, 1, source="Alder")
    counted = [actions.Counted(bench.bolt, 0, "good", Decimal(3))]
    actions.count(shop=bench.shop, place=bench.shelf, counted=counted, by=None, at=AT)
    assert shown(origins_of(bench.bolt).batches) == [("2", {"counted"}), ("1", {"Alder"})]


def test_a_delivery_taken_back_is_not_where_anything_came_from(bench: Bench) -> None:
    bench.bring(bench.bolt, 4, source="Alder")
    wrong = bench.bring(bench.bolt, 4, source="Birch")
    actions.correct(wrong, reason="typed twice", by=None, at=AT)
    assert shown(origins_of(bench.bolt).batches) == [("4", {"Alder"})]


def test_a_head_leads_to_the_deliveries_of_its_tube_and_bolts(bench: Bench) -> None:
    bench.bring(bench.tube, 1, length_um=feet(20), source="Alder")
    bench.bring(bench.bolt, 1, source="Birch")
    bench.make(2)
    bench.bring(bench.bolt, 5, source="Cedar")
    (batch,) = origins_of(bench.head).batches
    assert (batch.quantity, batch.was_made) == (2, True)
    assert names(batch) == {"Alder", "Birch"}
    assert {source.item.name for source in batch.sources} == {"Tube", "Bolts"}


def test_each_night_takes_from_its_own_delivery(bench: Bench) -> None:
    bench.bring(bench.tube, 2, length_um=feet(20), source="Alder")
    for source in ("Birch", "Cedar"):
        bench.bring(bench.bolt, 1, source=source)
        bench.make(2)
    assert shown(origins_of(bench.head).batches) == [
        ("2", {"Alder", "Cedar"}),
        ("2", {"Alder", "Birch"}),
    ]


def test_a_drop_comes_from_its_stick_and_from_nothing_else(bench: Bench) -> None:
    bench.bring(bench.tube, 1, length_um=feet(20), source="Alder")
    bench.bring(bench.bolt, 9, source="Birch")
    bench.make(1)
    (drop,) = origins_of(bench.tube).batches
    assert drop.length_um == feet(20) - 2 * inches("24 1/8")
    assert names(drop) == {"Alder"}


def test_what_was_never_booked_ends_with_the_tally_that_missed_it(bench: Bench) -> None:
    bench.bring(bench.bolt, 9, source="Birch")
    entry = bench.make(1)
    (batch,) = origins_of(bench.head).batches
    assert {(each.entry.pk, each.item.name) for each in batch.sources} >= {(entry.pk, "Tube")}


def test_a_set_leads_through_its_head_to_the_steel(bench: Bench) -> None:
    nest = make_item(bench.shop, name="Set", kind=Item.Kind.SET)
    recipe = make_recipe(nest, (bench.head, 1, 0))
    bench.bring(bench.tube, 1, length_um=feet(20), source="Alder")
    bench.bring(bench.bolt, 1, source="Birch")
    bench.make(1)
    actions.make(shop=bench.shop, recipe=recipe, good=1, by=None, at=AT)
    (batch,) = origins_of(nest).batches
    assert names(batch) == {"Alder", "Birch"}


def test_what_comes_back_from_the_marsh_keeps_its_origin(bench: Bench) -> None:
    bench.bring(bench.head, 3, source="Alder")
    usual = {"shop": bench.shop, "item": bench.head, "place": bench.head.home, "by": None, "at": AT}
    actions.set_out(quantity=Decimal(3), **usual)
    actions.bring_back(quantity=Decimal(2), reason="spare", **usual)
    assert shown(origins_of(bench.head).batches) == [("2", {"Alder"})]


def test_what_was_set_out_before_the_book_was_opened_is_told_as_it_came(bench: Bench) -> None:
    actions.bring_back(
        shop=bench.shop, item=bench.head, place=bench.head.home, quantity=Decimal(2),
        reason="last winter's", by=None, at=AT,
    )  # fmt: skip
    assert shown(origins_of(bench.head).batches) == [("2", {"returned"})]


def test_a_longer_book_asks_no_more(bench: Bench) -> None:
    def asked_after(rounds: int) -> int:
        for _ in range(rounds):
            bench.bring(bench.bolt, 1, source="Alder")
            used(bench, bench.bolt, 1)
        bench.bring(bench.bolt, 1, source="Birch")
        used(bench, bench.bolt, 1)
        with CaptureQueriesContext(connection) as asked:
            origins_of(bench.bolt)
        return len(asked)

    bench.bring(bench.bolt, 1, source="Birch")
    assert asked_after(10) == asked_after(20) <= 7


def test_the_book_is_read_on_where_one_part_does_not_reach(bench: Bench, monkeypatch) -> None:
    monkeypatch.setattr("inventory.ledger.origins.PART", 3)
    for n in range(9):
        bench.bring(bench.bolt, 1, source=f"Supplier {n}")
    used(bench, bench.bolt, 1)
    assert len(origins_of(bench.bolt).batches) == 8


def test_only_the_newest_batches_are_traced_and_the_others_counted(bench: Bench) -> None:
    """The newest two of thirty ask hardly more than the newest two of two, and say the same."""
    bench.bring(bench.bolt, 40, source="Alder")
    bench.bring(bench.tube, 20, length_um=feet(20), source="Birch")
    for _ in range(2):
        bench.make(1)
    with CaptureQueriesContext(connection) as few:
        origins_of(bench.head, 2)
    for _ in range(28):
        bench.make(1)
    with CaptureQueriesContext(connection) as many:
        newest = origins_of(bench.head, 2)
    # A drop is followed through the makings that its own stick went through, and no further.
    assert len(many) <= len(few) + 3
    whole = origins_of(bench.head)
    assert (newest.batches, newest.more) == (whole.batches[:2], 28)
    assert whole.more == 0
