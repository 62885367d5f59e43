"""One revision beside the one before it: in words, and drawn over each other."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from inventory.measures.lengths import Units
from workshops.stations.drawing.overlay import draw_overlay
from workshops.stations.geometry.changes import Change, PartChange, SheetChanges, changes_between
from workshops.stations.geometry.sheet import Sheet
from workshops.stations.models import BuildSheet
from workshops.stations.translate import SheetRefused, sheet_of

_Status = BuildSheet.Status


@dataclass(frozen=True, slots=True)
class Overlay:
    """One part of two revisions over each other; ``svg`` is ready to stand in a page."""

    title: str
    svg: str


@dataclass(frozen=True, slots=True)
class Compared:
    """What a revision changes of another; no overlays where only words or counts changed."""

    against: BuildSheet
    changes: SheetChanges
    overlays: list[Overlay]


def compared(
    row: BuildSheet, sheet: Sheet, revisions: Iterable[BuildSheet], units: Units
) -> Compared | None:
    """A draft beside the one in force, one in force beside what it took the place of.

    ``None`` for a first revision and for a superseded one. No query.
    """
    against = _before(row, revisions)
    if against is None:
        return None
    try:
        old = sheet_of(against)
    except SheetRefused:
        return None
    changes = changes_between(old, sheet, units)
    return Compared(against, changes, list(_overlays(old, sheet, changes, units)))


def _before(row: BuildSheet, revisions: Iterable[BuildSheet]) -> BuildSheet | None:
    """The latest that was frozen: only that is known as it was built."""
    if row.status == _Status.SUPERSEDED:
        return None
    frozen = [one for one in revisions if one.drawn is not None and one.pk != row.pk]
    in_force = [one for one in frozen if one.status == _Status.IN_FORCE]
    if in_force:
        return in_force[0]
    old = [one for one in frozen if one.status == _Status.SUPERSEDED and one.in_force_from]
    return max(old, key=lambda one: (str(one.in_force_from), one.pk), default=None)


def _overlays(old: Sheet, new: Sheet, changes: SheetChanges, units: Units) -> Iterator[Overlay]:
    """The parts of another shape, and those on which something is held elsewhere."""
    parts = {
        change.item: change
        for change in changes.parts
        if change.change is Change.CHANGED and change.is_other_shape
    }
    onto = {onto for _, onto in changes.joints}
    in_old = {part.item for part in old.parts}
    for part in new.parts:
        if part.item in in_old and (part.item in parts or part.item in onto):
            told = _not_drawn(parts.get(part.item))
            yield Overlay(part.name, draw_overlay(part.item, old, new, units, told=told))


def _not_drawn(change: PartChange | None) -> list[str]:
    """The words for what no number marks: stock, width, tolerance, count."""
    words = change.words if change else ()
    drawn = ("holes ", "bends ")
    return [
        each for each in words if not each.startswith(drawn) and " long instead of " not in each
    ]
