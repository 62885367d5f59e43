"""Where pieces went that are not on their rack any more."""

from __future__ import annotations

import pytest

from workshops.quality.tracing import UNKNOWN, Gone, Taking, trace

HEADS = Taking(pieces=10, where="in Head", made=5, item=7)  # two rods a head


def test_nothing_gone_is_nowhere() -> None:
    assert trace([HEADS], 0) == []


def test_the_latest_takings_come_first_and_an_odd_rod_is_a_whole_head() -> None:
    assert trace([HEADS, HEADS], 13) == [Gone("in Head", 13, 7, 7)]


def test_what_no_taking_explains_is_named() -> None:
    scrap = Taking(2, "scrapped since")
    assert trace([scrap, HEADS], 15) == [
        Gone("scrapped since", 2), Gone("in Head", 10, 5, 7), Gone(UNKNOWN, 3),
    ]  # fmt: skip


@pytest.mark.parametrize("gone", range(1, 30))
def test_the_pieces_always_add_up(gone: int) -> None:
    takings = [Taking(3, "scrapped since"), HEADS, Taking(1, "in Set", 1, 9), HEADS]
    assert sum(each.pieces for each in trace(takings, gone)) == gone
