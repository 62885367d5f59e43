"""Checks of the parts: holes, bends, stock, and where they are joined."""

from __future__ import annotations

from collections.abc import Iterator

from inventory.measures.lengths import Units, spell_length
from workshops.stations.geometry.bending import taken_um
from workshops.stations.geometry.limits import SheetLimits
from workshops.stations.geometry.parts import Bend, Part
from workshops.stations.geometry.sheet import Sheet
from workshops.stations.geometry.warned import SheetWarning, Warnings


def hole_outside(sheet: Sheet, _limits: SheetLimits, units: Units) -> Warnings:
    """A hole is off the end of its part, or as wide as the part."""
    for place, part in enumerate(sheet.parts):
        for number, hole in enumerate(part.holes):
            field = f"parts[{place}].holes[{number}]"
            if hole.from_end_um + hole.diameter_um / 2 > part.length_um:
                yield SheetWarning(
                    f"{field}.from_end_um",
                    f"{part.name}: the hole at {spell_length(hole.from_end_um, units)} from the"
                    f" {part.end_name} runs off the part, which is"
                    f" {spell_length(part.length_um, units)} long: move the hole.",
                )
            if hole.diameter_um >= part.section.outside_um:
                yield SheetWarning(
                    f"{field}.diameter_um",
                    f"{part.name}: a {spell_length(hole.diameter_um, units)} hole leaves nothing"
                    f" of stock {spell_length(part.section.outside_um, units)} wide: drill"
                    " smaller.",
                )


def hole_near_end(sheet: Sheet, limits: SheetLimits, units: Units) -> Warnings:
    """A hole leaves less metal to the end of its part than the club's rule asks for."""
    least = limits.min_metal_um
    if least is None:
        return
    for place, part in enumerate(sheet.parts):
        for number, hole in enumerate(part.holes):
            to_end = min(hole.from_end_um, part.length_um - hole.from_end_um)
            # Half a micrometre less wide for odd holes, which no rule of a club is fine enough to
            # feel.
            metal = to_end - hole.diameter_um // 2
            # Off the part altogether is told by the check before.
            if to_end > 0 and metal < least:
                yield SheetWarning(
                    f"parts[{place}].holes[{number}].from_end_um",
                    f"{part.name}: {spell_length(max(metal, 0), units)} of metal is left between"
                    f" the hole at {spell_length(hole.from_end_um, units)} and the end, and the"
                    f" club's rule asks for {spell_length(least, units)}: move the hole inward.",
                )


def longer_than_stock(sheet: Sheet, _limits: SheetLimits, units: Units) -> Warnings:
    """A part cannot be cut from the stick or roll that it is said to come from."""
    for place, part in enumerate(sheet.parts):
        stock = part.stock_length_um
        if stock is not None and part.length_um > stock:
            yield SheetWarning(
                f"parts[{place}].length_um",
                f"{part.name} is {spell_length(part.length_um, units)} long and its stock"
                f" {spell_length(stock, units)}: shorten it or order longer stock.",
            )


def bends_do_not_fit(sheet: Sheet, _limits: SheetLimits, units: Units) -> Warnings:
    """A bend runs off the part, into the next bend, or over a hole."""
    for place, part in enumerate(sheet.parts):
        reached, previous = 0.0, f"the {part.end_name}"
        for number, bend in sorted(enumerate(part.bends), key=lambda pair: pair[1].at_um):
            where = f"the bend at {spell_length(bend.at_um, units)}"
            half = taken_um(bend, part) / 2
            into = previous if bend.at_um - half < reached else ""
            for trouble in _bend_troubles(part, bend, into, units):
                yield SheetWarning(
                    f"parts[{place}].bends[{number}].at_um", f"{part.name}: {where} {trouble}"
                )
            reached, previous = bend.at_um + half, where


def _bend_troubles(part: Part, bend: Bend, into: str, units: Units) -> Iterator[str]:
    half = taken_um(bend, part) / 2
    if into:
        yield f"runs into {into}: move it or bend with a smaller radius."
    if bend.at_um + half > part.length_um:
        yield "runs off the far end: move it inward or lengthen the part."
    for hole in part.holes:
        if abs(hole.from_end_um - bend.at_um) < half + hole.diameter_um / 2:
            at = spell_length(hole.from_end_um, units)
            yield f"lies over the hole at {at}: move one of the two."


def joint_off_the_part(sheet: Sheet, _limits: SheetLimits, units: Units) -> Warnings:
    """A weld or bolt is marked beyond the end of a part."""
    for place, joint in enumerate(sheet.joints):
        for name, item, at in (
            ("at_um", joint.onto, joint.at_um),
            ("part_at_um", joint.part, joint.part_at_um),
        ):
            part = sheet.part(item)
            if at > part.length_um:
                yield SheetWarning(
                    f"joints[{place}].{name}",
                    f"A {joint.kind.value} is marked at {spell_length(at, units)} on {part.name},"
                    f" which is {spell_length(part.length_um, units)} long: move it.",
                )
