"""The demo's stocktakes: one posted with its reasons, one under way with a look owed."""

from __future__ import annotations

from inventory.places.models import Shop
from inventory.stocktake.models import Stocktake
from inventory.stocktake.progress import State
from inventory.stocktake.queries import late_of, progress_of


def test_the_posted_one_has_a_difference_explained_and_one_unexplained(demo: Shop) -> None:
    (row,) = progress_of(Stocktake.objects.get(shop=demo, closed_at__isnull=False))
    assert {off.line.reason for off in row.off} == {"scrapped", "unexplained"}
    assert len({row.first.counter, row.second.counter}) == 2


def test_nothing_was_typed_in_late_for_it(demo: Shop) -> None:
    assert late_of(Stocktake.objects.get(shop=demo, closed_at__isnull=False)) == []


def test_the_one_under_way_shows_every_step_of_a_count(demo: Shop) -> None:
    rows = progress_of(Stocktake.objects.get(shop=demo, closed_at=None))
    assert [(row.sheet.place.name, row.state) for row in rows] == [
        ("Cylinder racks", State.LOOK_AGAIN),
        ("Head shelves", State.NOT_BEGUN),
        ("Yard", State.ONCE),
    ]
    assert [row.line.item.slug for row in rows[0].owed] == ["cylinder-rolled"]
