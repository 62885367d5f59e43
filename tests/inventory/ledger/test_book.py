"""What stands in the book is the sum of what was drawn up, line by equal line."""

from __future__ import annotations

from decimal import Decimal

from inventory.ledger.drafts import NewLine, merge
from inventory.ledger.models import Condition, Line
from inventory.ledger.queries import check, pieces_of
from inventory.measures.lengths import feet, inches
from tests.inventory.ledger.conftest import Bench

SHELF, USED = Line.Account.SHELF, Line.Account.USED


def test_equal_lines_are_added_up_and_others_kept_apart(bench: Bench) -> None:
    held = NewLine(bench.bolt, SHELF, Decimal(5), bench.shelf, Condition.HOLD)
    lines = [NewLine(bench.bolt, SHELF, Decimal(n), bench.shelf) for n in (1, 2)]
    merged = merge([*lines, held, NewLine(bench.bolt, USED, Decimal(-8))])
    assert [line.quantity for line in merged] == [3, 5, -8]


def test_lines_that_come_to_nothing_are_left_out(bench: Bench) -> None:
    lines = [NewLine(bench.bolt, USED, Decimal(n)) for n in (2, -2)]
    assert merge(lines) == []


def test_sticks_of_one_length_from_two_places_are_used_in_one_line(bench: Bench) -> None:
    for place in (bench.rack, bench.shelf):
        bench.bring(bench.tube, 1, length_um=feet(8), place=place)
    bench.bring(bench.bolt, 1)
    # Four pieces of 24 in and their kerfs: three come off one stick, the fourth off the other.
    entry = bench.make(2)
    assert entry.lines.get(item=bench.tube, account=USED, length_um=feet(8)).quantity == 2
    drops = [(feet(8) - inches(24) - inches("1/8"), 1), (feet(8) - 3 * inches("24 1/8"), 1)]
    assert pieces_of(bench.tube) == drops
    assert check(bench.shop) == ()
