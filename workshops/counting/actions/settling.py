"""What paper sheets add to the book beside the taps, kept true when taps come in or go.

A person decided for each operation of a sheet. What was decided stands as a rule and not as
a number: with T pieces counted without any sheet and M on sheets whose pieces no tablet has,
the book holds ``max(T + M, P)`` where P is on a sheet of the same pieces, for good, hold and
scrap each. So a tablet found in a coat next morning may still share, and nothing doubles.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from datetime import datetime
from functools import reduce
from typing import Any

from django.db.models import QuerySet, Sum

from inventory.ledger.actions import PostingRefused
from workshops.access.models import User
from workshops.counting.models import Mending, PaperLine
from workshops.nights.actions.recount import recount
from workshops.nights.actions.tally import NewCount
from workshops.nights.clock import moment
from workshops.nights.models import Night, Tally
from workshops.nights.refusals import NightRefused

KINDS = ("good", "hold", "scrap")
Three = tuple[int, int, int]
NOTHING = (0, 0, 0)


def settle(*, night: Night, operations: Collection[int], by: User | None, at: datetime) -> None:
    """Make the book hold what was decided about these operations; 1 query without a sheet.

    Where the pieces of a sheet have left already, its line says so and stays as it is.
    """
    lines = PaperLine.objects.filter(sheet__night=night, operation__in=operations)
    decided = lines.exclude(decision="").order_by("decided_at", "pk")
    rows = decided.select_related("sheet__night__shop", "operation__recipe__output", "tally")
    by_operation: dict[int, list[PaperLine]] = {}
    for line in rows:
        by_operation.setdefault(line.operation_id, []).append(line)
    for operation, found in by_operation.items():
        _settle(night, counted_without_sheets(night, operation), found, by=by, at=at)


def counted_without_sheets(night: Night, operation: int) -> Three:
    """What tablets and hands counted as the operation on the night, mended since or not."""
    there = sums(standing(night, operation).filter(paper_line=None))
    mendings = Mending.objects.filter(night=night)
    lines = PaperLine.objects.filter(sheet__night=night, operation=operation)
    of_sheets = [three(moved) for moved in lines.values_list("moved", flat=True)]
    gone = _minus(sums(mendings.filter(counted_as=operation)), _all(of_sheets))
    return _minus(_plus(there, gone), sums(mendings.filter(was=operation)))


def standing(night: Night, operation: int) -> QuerySet[Tally]:
    """The counts of an operation that stand, latest first."""
    rows = Tally.objects.standing().filter(night=night, operation=operation)
    return rows.order_by("-counted_at", "-pk")


def sums(rows: QuerySet[Any]) -> Three:
    """Good, hold and scrap of the rows together."""
    found = rows.order_by().aggregate(**{name: Sum(name) for name in KINDS})
    return three(found[name] or 0 for name in KINDS)


def three(numbers: Iterable[int]) -> Three:
    """Good, hold and scrap, as they stand in a list."""
    good, hold, scrap = numbers
    return (good, hold, scrap)


def _settle(
    night: Night, counted: Three, lines: list[PaperLine], *, by: User | None, at: datetime
) -> None:
    there = counted
    for line in lines:
        if line.decision == PaperLine.Decision.TABLETS:
            _adds(night, line, NOTHING, by=by, at=at)
        elif line.decision == PaperLine.Decision.MORE:
            _adds(night, line, written(line), by=by, at=at)
            there = _plus(there, written(line))
    # Of several sheets of the same pieces the first decided goes first; the greatest counts.
    for line in lines:
        if line.decision == PaperLine.Decision.SAME:
            beyond = beyond_of(written(line), there)
            _adds(night, line, beyond, by=by, at=at)
            there = _plus(there, beyond)


def written(line: PaperLine) -> Three:
    """What the paper says."""
    return (line.good, line.hold, line.scrap)


def beyond_of(wanted: Three, there: Three) -> Three:
    """How much of what is wanted is not there."""
    return three(max(0, one - other) for one, other in zip(wanted, there, strict=True))


def _plus(one: Three, other: Three) -> Three:
    return three(a + b for a, b in zip(one, other, strict=True))


def _minus(one: Three, other: Three) -> Three:
    return three(a - b for a, b in zip(one, other, strict=True))


def _all(each: Iterable[Three]) -> Three:
    return reduce(_plus, each, NOTHING)


def _adds(night: Night, line: PaperLine, wanted: Three, *, by: User | None, at: datetime) -> None:
    """Make the line add so much to the book and no other number, but for what was mended."""
    now, moved = line.tally, three(line.moved)
    if beyond_of(moved, wanted) != NOTHING:
        line.stuck = "More was counted as something else than it adds now: count the pieces again."
        line.save(update_fields=["stuck"])
    wanted = beyond_of(wanted, moved)
    if wanted == ((now.good, now.hold, now.scrap) if now else (0, 0, 0)):
        return
    new = NewCount(
        operation=line.operation, at=min(at, moment(night, night.stop)),
        good=wanted[0], hold=wanted[1], scrap=wanted[2],
        counted_by=" ".join(filter(None, [str(line.sheet), line.sheet.counted_by])),
    )  # fmt: skip
    try:
        rows = recount(
            night=night, counts=[new] if new.pieces else [], taken=[now] if now else [],
            by=by, at=at, reason=f"{line.sheet}: {line.get_decision_display()}",
        )  # fmt: skip
    except (NightRefused, PostingRefused) as refused:
        line.stuck = str(refused)[:300]
        line.save(update_fields=["stuck"])
        return
    line.tally, line.stuck = rows[0] if rows else None, ""
    line.save(update_fields=["tally", "stuck"])
