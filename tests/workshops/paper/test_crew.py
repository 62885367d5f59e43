"""The crew of a card: from when to when, the watch to the end."""

from __future__ import annotations

from tests.workshops.nights.scene import Scene
from workshops.nights.board import board_for
from workshops.nights.models import Night, Placing
from workshops.paper.crew import crew_of, watchers


def test_whoever_has_the_watch_last_stays_until_lock_up(scene: Scene, night: Night) -> None:
    last = scene.night.blocks.order_by("-index").first()
    watch = Placing.objects.filter(night=night, role=Placing.Role.WATCHES)
    assert watch.exists(), "the scene has hot work, so somebody watches"
    row = watch.order_by("-block__index").first()
    row.block = last
    Placing.objects.filter(block=last, person=row.person).delete()
    row.save()
    assert f"–{night.lock_up:%H:%M})" in watchers(board_for(night))


def test_blocks_that_follow_one_another_run_together(night: Night) -> None:
    board = board_for(night)
    times = [line.when for row in board.open_rows for line in crew_of(row, board)]
    assert times
    starts = {f"{block.starts:%H:%M}" for block in board.blocks}
    assert all(when.split("–")[0] in starts for when in times)
