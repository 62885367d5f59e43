"""The sentences of a board: the plan's own while they are true, told anew where they are not."""

from __future__ import annotations

from collections import defaultdict

from workshops.nights.engine.board import Board
from workshops.nights.engine.reasons import Reasons
from workshops.nights.loading import Loaded
from workshops.nights.models import PlacingRun


def sentences(loaded: Loaded) -> dict[int, str]:
    """Why somebody stands there, told anew where their crew is no longer the plan's. No query.

    A sentence of the plan names the lead beside whom one learns and what the crew makes: once
    somebody was moved, it would no longer be true.
    """
    run = loaded.night.plan
    crews = _crews_of(run) if run else {}
    placings, watch = loaded.placed()
    reasons = Reasons(Board(loaded.bare, placings, watch), is_by_hand=True)
    index = {block.pk: position for position, block in enumerate(loaded.blocks)}
    now: dict[tuple[int, str], set[str]] = defaultdict(set)
    for each in placings:
        now[each.block, each.station].add(each.person)
    at = {(each.person, each.block): each for each in placings}
    found = {}
    for row in loaded.placings:
        slot = (index[row.block_id], str(row.station_id))
        placing = at.get((str(row.person_id), slot[0]))
        if placing and run and row.run_id == run.pk and now[slot] != crews.get(slot):
            found[row.pk] = reasons.why(placing)
    return found


def _crews_of(run: PlacingRun) -> dict[tuple[int, str], set[str]]:
    crews: dict[tuple[int, str], set[str]] = defaultdict(set)
    for row in run.result["placings"]:
        crews[row["block"] + run.from_block, row["station"]].add(row["person"])
    return crews
