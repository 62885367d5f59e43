"""Which parts of the old drawing still go together with which of the new one.

A stem and its post must match: the one slides in the other and a pin hole of each lies
over the other's. What was made before a drawing changed may fit what is made after, or
only what was made with it.
"""

from __future__ import annotations

from dataclasses import dataclass

from workshops.stations.geometry.fit import height_settings, play_between
from workshops.stations.geometry.limits import SheetLimits
from workshops.stations.geometry.parts import Part
from workshops.stations.geometry.sheet import FitSpec, Sheet


@dataclass(frozen=True, slots=True)
class Matching:
    """How old and new inner parts (stems) and outer parts (posts) go together.

    ``inner`` and ``outer`` are items of the old drawing. ``old_in_new`` says that an old
    stem still goes into a new post, ``new_in_old`` that a new stem goes into an old post.
    """

    inner: str
    outer: str
    old_in_new: bool
    new_in_old: bool

    @property
    def must_stay_paired(self) -> bool:
        """Whether old ones serve only with old ones, on one side at least."""
        return not (self.old_in_new and self.new_in_old)


def matching(old: Sheet, new: Sheet, limits: SheetLimits) -> Matching | None:
    """How the two drawings' stems and posts go together; ``None`` where nothing slides.

    Notes
    -----
    A drawing without a fit asks nothing of its parts. Where the new drawing has none, the
    old parts have only each other.
    """
    if old.fit is None:
        return None
    inner, outer = old.part(old.fit.inner), old.part(old.fit.outer)
    if new.fit is None:
        return Matching(inner.item, outer.item, old_in_new=False, new_in_old=False)
    newer = new.part(new.fit.inner), new.part(new.fit.outer)
    swing = limits.wall_tolerance_percent
    # No looser than one of the two drawings lets its own pair be: a stem that rattles in
    # its post is not one that matches.
    loosest = max(_loosest(inner, outer, swing), _loosest(*newer, swing))
    return Matching(
        inner.item,
        outer.item,
        old_in_new=goes_in(inner, newer[1], new.fit, limits, loosest_um=loosest),
        new_in_old=goes_in(newer[0], outer, new.fit, limits, loosest_um=loosest),
    )


def _loosest(inner: Part, outer: Part, wall_tolerance_percent: int) -> int:
    try:
        return play_between(inner.section, outer.section, wall_tolerance_percent).most_um
    except ValueError:
        return 0


def goes_in(
    inner: Part, outer: Part, fit: FitSpec, limits: SheetLimits, *, loosest_um: int
) -> bool:
    """Whether the one slides in the other without rattling, and can be pinned there."""
    try:
        play = play_between(inner.section, outer.section, limits.wall_tolerance_percent)
    except ValueError:
        return False
    pins = [hole for part in (inner, outer) for hole in part.holes if hole.is_pin]
    takes_the_pin = all(hole.diameter_um >= fit.pin_um for hole in pins)
    has_play = play.slides() and fit.clearance_um <= play.drawn_um <= loosest_um
    deep = limits.min_engaged_um or 0
    heights = [way for way in height_settings(inner, outer) if way.engaged_um >= deep]
    return has_play and takes_the_pin and bool(heights)
