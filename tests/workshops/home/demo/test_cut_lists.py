"""The demo has a cut list that somebody began."""

from __future__ import annotations

from inventory.cutting.models import CutListRun
from inventory.cutting.progress import progress_of
from inventory.ledger.queries import check


def test_one_stick_of_the_legs_is_cut(demo) -> None:
    run = CutListRun.objects.get(shop=demo)
    told = progress_of(run)
    assert (run.status, told.sticks_done, told.pieces_done, told.pieces) == ("proven", 1, 3, 12)
    assert check(demo) == ()
