"""What lies elsewhere on a part from one revision to the next: holes, bends, joints, its end."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import zip_longest

from inventory.measures.lengths import Units, spell_length
from workshops.stations.drawing.spelling import spell_angle
from workshops.stations.geometry.parts import Bend, Part
from workshops.stations.geometry.sheet import Sheet


@dataclass(frozen=True, slots=True)
class Moved:
    """One thing that was at one place and is at another; none: it is new, or taken off.

    ``words`` tell both places, for whoever cannot see the drawing.
    """

    was_um: int | None
    now_um: int | None
    words: str


def moved_on(item: str, old: Sheet, new: Sheet, units: Units) -> list[Moved]:
    """Everything that moved on a part of both sheets: holes, bends, joints, then its end."""
    was, now = old.part(item), new.part(item)
    found = [*_holes(was, now, units), *_bends(was, now, units), *_joints(item, old, new, units)]
    if was.length_um != now.length_um:
        told = f"{_of(now.length_um, units)} long instead of {_of(was.length_um, units)}"
        found.append(Moved(was.length_um, now.length_um, told))
    return found


def _holes(old: Part, new: Part, units: Units) -> Iterator[Moved]:
    """By kind of hole: those that stay are left out, the others go together in order."""
    kinds: dict[tuple[int, bool, bool], tuple[list[int], list[int]]] = {}
    for place, part in enumerate((old, new)):
        for hole in part.holes:
            kind = (hole.diameter_um, hole.through_both, hole.is_pin)
            kinds.setdefault(kind, ([], []))[place].append(hole.from_end_um)
    for (diameter, *_), (was, now) in kinds.items():
        yield from _pairs(was, now, f"hole {_of(diameter, units)}", units)


def _bends(old: Part, new: Part, units: Units) -> Iterator[Moved]:
    was, now = (sorted(part.bends, key=lambda bend: bend.at_um) for part in (old, new))
    for one, other in zip_longest(was, now):
        if one == other:
            continue
        told = _told(_bend(one, units), _bend(other, units), "")
        yield Moved(one.at_um if one else None, other.at_um if other else None, told)


def _bend(bend: Bend | None, units: Units) -> str:
    if bend is None:
        return ""
    radius = _of(bend.inside_radius_um, units)
    return (
        f"bend {spell_angle(bend.angle_deg)} {bend.turn.value} at {_of(bend.at_um, units)}, "
        f"inside radius {radius}"
    )


def _joints(item: str, old: Sheet, new: Sheet, units: Units) -> Iterator[Moved]:
    """Where other parts are held on this one."""
    kinds: dict[tuple[str, str], tuple[list[int], list[int]]] = {}
    for place, sheet in enumerate((old, new)):
        for joint in sheet.joints:
            if joint.onto == item:
                held = (joint.kind.value, sheet.part(joint.part).name)
                kinds.setdefault(held, ([], []))[place].append(joint.at_um)
    for (kind, name), (was, now) in kinds.items():
        yield from _pairs(was, now, f"{kind} of {name.lower()}", units)


def _pairs(was: list[int], now: list[int], name: str, units: Units) -> Iterator[Moved]:
    stay = Counter(was) & Counter(now)
    gone, come = (sorted((Counter(places) - stay).elements()) for places in (was, now))
    for one, other in zip_longest(gone, come):
        before, after = (_at(place, units) for place in (one, other))
        yield Moved(one, other, _told(before, after, f"{name} "))


def _at(place: int | None, units: Units) -> str:
    return "" if place is None else f"at {_of(place, units)}"


def _told(was: str, now: str, name: str) -> str:
    if not was:
        return f"{name}{now} is new"
    return f"{name}{now} instead of {was}" if now else f"{name}{was} is taken off"


def _of(length_um: int, units: Units) -> str:
    return spell_length(length_um, units)
