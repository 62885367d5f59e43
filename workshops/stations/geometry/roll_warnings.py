"""Checks of the roll: ring, wire, mesh, and whether the piece is long enough."""

from __future__ import annotations

from inventory.measures.lengths import MICROMETRES_PER_INCH, Units, spell_length
from workshops.stations.geometry.limits import SheetLimits
from workshops.stations.geometry.parts import PartRole
from workshops.stations.geometry.roll import around_um, shape_of
from workshops.stations.geometry.sheet import Sheet
from workshops.stations.geometry.spelling import spell_thin
from workshops.stations.geometry.warned import SheetWarning, Warnings


def ring_over_the_limit(sheet: Sheet, limits: SheetLimits, units: Units) -> Warnings:
    """The first turn is wider than the club allows, which lets geese in."""
    most = limits.max_ring_diameter_um
    if sheet.roll is None or most is None:
        return
    inside = shape_of(sheet.roll).inside_um
    if inside > most:
        step = MICROMETRES_PER_INCH // 8 if units is Units.INCH else 1_000
        # Rounded down to a mark on the tape, so that whoever follows it stays within the limit.
        close_at = around_um(most) // step * step
        yield SheetWarning(
            "roll.ring_um",
            f"The first turn is {spell_length(inside, units)} across inside and the club's limit"
            f" is {spell_length(most, units)}: close it at {spell_length(close_at, units)}"
            " around or less.",
        )


def wire_too_light(sheet: Sheet, limits: SheetLimits, units: Units) -> Warnings:
    """The wire is thinner than the club's rule; it folds under a heavy bird."""
    least = limits.min_wire_um
    if sheet.roll is None or least is None or sheet.roll.wire_um >= least:
        return
    yield SheetWarning(
        "roll.wire_um",
        f"The wire is {spell_thin(sheet.roll.wire_um, units)} thick and the club's rule asks for"
        f" {spell_thin(least, units)} or more: take heavier wire.",
    )


def mesh_too_wide(sheet: Sheet, limits: SheetLimits, units: Units) -> Warnings:
    """The mesh is more open than the club's rule; straw works out of it."""
    most = limits.max_mesh_um
    if sheet.roll is None or most is None:
        return
    widest = max(sheet.roll.mesh_long_um, sheet.roll.mesh_short_um)
    if widest > most:
        yield SheetWarning(
            "roll.mesh_long_um",
            f"The mesh is {spell_length(widest, units)} wide and the club's rule allows"
            f" {spell_length(most, units)}: take a closer mesh.",
        )


def wire_too_short(sheet: Sheet, limits: SheetLimits, units: Units) -> Warnings:
    """The piece does not close the outer turn, or closes it with too little to ring."""
    if sheet.roll is None:
        return
    shape, wanted = shape_of(sheet.roll), limits.min_overlap_um or 0
    if shape.overlap_um >= wanted:
        return
    longer = spell_length(wanted - shape.overlap_um, units)
    left = spell_length(max(shape.overlap_um, 0), units)
    reason = (
        f"only {left} of wire is left over it and the club's rule asks for"
        f" {spell_length(wanted, units)}"
        if shape.overlap_um >= 0
        else f"the wire piece ends {spell_length(-shape.overlap_um, units)} before it closes"
    )
    yield SheetWarning(
        "roll.piece_length_um",
        f"The outer turn is {spell_length(shape.outer_turn_um, units)} around and {reason}:"
        f" cut the piece {longer} longer, or make the layer thinner.",
    )


def wire_piece_differs(sheet: Sheet, _limits: SheetLimits, units: Units) -> Warnings:
    """The wire piece among the parts is not the one the roll is worked out for."""
    for place, part in enumerate(sheet.parts):
        if sheet.roll is None or part.role is not PartRole.WIRE:
            continue
        pairs = (
            ("length_um", part.length_um, sheet.roll.piece_length_um, "long"),
            ("width_um", part.width_um, sheet.roll.width_um, "wide"),
            ("section.wire_um", part.section.wire_um, sheet.roll.wire_um, "thick"),
        )
        for name, has, wants, how in pairs:
            if has != wants:
                # A wire in 32nds of an inch would say the same of two gauges.
                spell = spell_thin if how == "thick" else spell_length
                yield SheetWarning(
                    f"parts[{place}].{name}",
                    f"{part.name} is {spell(has, units)} {how} and the roll is worked out for"
                    f" {spell(wants, units)}: make the two agree.",
                )
