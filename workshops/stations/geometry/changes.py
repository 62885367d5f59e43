"""What changed between two drawings, part by part and in numbers.

Only what a hand or a gauge would find counts: a part that was renamed, or whose stick is
bought in another length, is the same part.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import Enum

from inventory.measures.lengths import Units, spell_length
from workshops.stations.geometry.parts import Bend, Hole, Part, Section, SectionKind
from workshops.stations.geometry.sheet import Joint, RollSpec, Sheet
from workshops.stations.geometry.spelling import spell_thin


class Change(Enum):
    """What became of a part from one drawing to the next."""

    CHANGED = "changed"
    ADDED = "added"
    TAKEN_OFF = "taken off"


@dataclass(frozen=True, slots=True)
class PartChange:
    """One part whose shape is another, or that came or went.

    ``is_cut_anew`` says that its blank is another as well (section, length or width), not
    only what is drilled or bent into it. ``is_other_shape`` is false where only its count
    in a set changed: the part itself is as good as before.
    """

    item: str
    name: str
    change: Change
    words: tuple[str, ...]
    is_cut_anew: bool
    is_other_shape: bool = True


@dataclass(frozen=True, slots=True)
class SheetChanges:
    """Every difference of two drawings; empty words and parts when a set is made the same.

    ``joints`` names the parts (by item, two and two) that are held together differently.
    """

    parts: tuple[PartChange, ...]
    joints: tuple[tuple[str, str], ...]
    words: tuple[str, ...]
    is_other_roll: bool = False

    @property
    def is_nothing(self) -> bool:
        """Whether a set is made as before."""
        return not (self.parts or self.joints or self.words)


def changes_between(old: Sheet, new: Sheet, units: Units) -> SheetChanges:
    """What a set made by ``old`` has otherwise than one made by ``new``."""
    parts = [
        change
        for item in _items(old, new)
        if (change := _part_change(_part(old, item), _part(new, item), units)) is not None
    ]
    joints = _joint_changes(old, new)
    words = [*_roll_words(old.roll, new.roll, units), *_fit_words(old, new, units)]
    words += [f"{part} is held on {onto} otherwise" for part, onto in joints]
    return SheetChanges(tuple(parts), tuple(joints), tuple(words), old.roll != new.roll)


def is_same_part(old: Part, new: Part) -> bool:
    """Whether one part serves for the other, by its shape alone."""
    return _shape(old) == _shape(new)


def _shape(part: Part) -> Part:
    # What no gauge finds on the finished part: names, counts, and how the stick was bought.
    return replace(
        part,
        name="-",
        item="-",
        count=1,
        stock_length_um=None,
        end_name="-",
        holes=tuple(replace(hole, name="") for hole in part.holes),
    )


def _items(old: Sheet, new: Sheet) -> list[str]:
    named = [part.item for part in old.parts]
    return named + [part.item for part in new.parts if part.item not in named]


def _part(sheet: Sheet, item: str) -> Part | None:
    return next((part for part in sheet.parts if part.item == item), None)


def _part_change(old: Part | None, new: Part | None, units: Units) -> PartChange | None:
    if old is None and new is not None:
        return PartChange(new.item, new.name, Change.ADDED, ("new on this drawing",), True)
    if old is not None and new is None:
        return PartChange(old.item, old.name, Change.TAKEN_OFF, ("no longer on it",), True)
    assert old is not None  # an item of neither sheet is never asked for
    assert new is not None
    words = tuple(_part_words(old, new, units))
    if not words:
        return None
    cut_anew = (old.section, old.length_um, old.width_um) != (
        new.section, new.length_um, new.width_um,
    )  # fmt: skip
    is_other = not is_same_part(old, new)
    return PartChange(new.item, new.name, Change.CHANGED, words, cut_anew, is_other)


def _part_words(old: Part, new: Part, units: Units) -> Iterator[str]:
    if old.section != new.section:
        yield f"{spell_section(new.section, units)} instead of {spell_section(old.section, units)}"
    for name, was, now in (
        ("long", old.length_um, new.length_um),
        ("wide", old.width_um, new.width_um),
    ):
        if was != now:
            yield f"{_than(was, now, units)}: {_of(now, units)} {name} instead of {_of(was, units)}"
    if _places(old.holes) != _places(new.holes):
        yield f"holes {_holes(new.holes, units)} instead of {_holes(old.holes, units)}"
    if old.bends != new.bends:
        yield f"bends {_bends(new.bends, units)} instead of {_bends(old.bends, units)}"
    if old.tolerance_um != new.tolerance_um:
        differ = _of(new.tolerance_um, units)
        yield f"may differ by {differ} instead of {_of(old.tolerance_um, units)}"
    if old.count != new.count:
        yield f"{new.count} in a set instead of {old.count}"


def spell_section(section: Section, units: Units) -> str:
    """A section in words: ``square tube 1 3/4 in, wall 0.109 in``."""
    kind = section.kind.value.replace("_", " ")
    if section.kind is SectionKind.WIRE_MESH:
        mesh = f"{_of(section.mesh_short_um, units)} x {_of(section.mesh_long_um, units)}"
        return f"{kind} {mesh}, wire {spell_thin(section.wire_um, units)}"
    wall = f", wall {spell_thin(section.wall_um, units)}" if section.wall_um else ""
    return f"{kind} {_of(section.outside_um, units)}{wall}"


def _than(was: int, now: int, units: Units) -> str:
    more = "more" if now > was else "less"
    return f"{_of(abs(now - was), units)} {more}"


def _of(length_um: int, units: Units) -> str:
    return spell_length(length_um, units)


def _places(holes: tuple[Hole, ...]) -> list[tuple[int, int, bool, bool]]:
    return sorted(
        (hole.from_end_um, hole.diameter_um, hole.through_both, hole.is_pin) for hole in holes
    )


def _holes(holes: tuple[Hole, ...], units: Units) -> str:
    ordered = sorted(holes, key=lambda hole: hole.from_end_um)
    told = [f"{_of(h.diameter_um, units)} at {_of(h.from_end_um, units)}" for h in ordered]
    return ", ".join(told) or "none"


def _bends(bends: tuple[Bend, ...], units: Units) -> str:
    told = [f"{bend.angle_deg:g}° at {_of(bend.at_um, units)}" for bend in bends]
    return ", ".join(told) or "none"


def _joint_changes(old: Sheet, new: Sheet) -> list[tuple[str, str]]:
    was, now = set(map(_held, old.joints)), set(map(_held, new.joints))
    return sorted({(held[0], held[1]) for held in was ^ now})


def _held(joint: Joint) -> tuple[str, str, int, int, str]:
    return (joint.part, joint.onto, joint.at_um, joint.part_at_um, joint.kind.value)


def _roll_words(old: RollSpec | None, new: RollSpec | None, units: Units) -> Iterator[str]:
    if old == new:
        return
    if old is None or new is None:
        yield "the roll is no longer on it" if new is None else "the roll is new on this drawing"
        return
    for name, was, now in (
        ("the first turn", old.ring_um, new.ring_um),
        ("the straw layer", old.layer_um, new.layer_um),
    ):
        if was != now:
            yield f"{name} {_of(now, units)} instead of {_of(was, units)}"
    if old.fill_percent != new.fill_percent:
        yield f"filled to {new.fill_percent} % instead of {old.fill_percent} %"
    if (old.rings_min, old.rings_max) != (new.rings_min, new.rings_max):
        rings = f"{new.rings_min} to {new.rings_max} rings"
        yield f"{rings} instead of {old.rings_min} to {old.rings_max}"


def _fit_words(old: Sheet, new: Sheet, units: Units) -> Iterator[str]:
    if old.fit and new.fit and old.fit.pin_um != new.fit.pin_um:
        yield f"the pin {_of(new.fit.pin_um, units)} instead of {_of(old.fit.pin_um, units)}"
    if old.legs != new.legs:
        yield "the legs stand otherwise"
