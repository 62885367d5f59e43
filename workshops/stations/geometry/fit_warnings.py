"""Checks of the stem in its post: does it slide, and at which heights does it hold?"""

from __future__ import annotations

from inventory.measures.lengths import Units, spell_length
from workshops.stations.geometry.fit import Play, height_settings, play_between
from workshops.stations.geometry.limits import SheetLimits
from workshops.stations.geometry.parts import Part
from workshops.stations.geometry.sheet import Sheet
from workshops.stations.geometry.spelling import spell_thin
from workshops.stations.geometry.warned import SheetWarning, Warnings


def stem_binds(sheet: Sheet, limits: SheetLimits, units: Units) -> Warnings:
    """The stem does not slide in the post when the wall is at the thick end of its range."""
    if sheet.fit is None:
        return
    inner, outer = sheet.part(sheet.fit.inner), sheet.part(sheet.fit.outer)
    try:
        play = play_between(inner.section, outer.section, limits.wall_tolerance_percent)
    except ValueError:
        yield SheetWarning("fit.outer", f"{inner.name} cannot slide into {outer.name}: choose tube")
        return
    wanted = max(sheet.fit.clearance_um, limits.min_clearance_um or 0)
    reason = _binding(play, wanted, limits, units)
    if reason:
        yield SheetWarning(
            "fit.clearance_um",
            f"{inner.name} in {outer.name}: {reason} Measure the tube when it comes in, or draw"
            " a thinner wall or a smaller stem.",
        )


def _binding(play: Play, wanted: int, limits: SheetLimits, units: Units) -> str:
    # From worst to mildest; one of them is told, since the first makes the others moot.
    if play.drawn_um <= 0:
        return f"it is {spell_thin(-play.drawn_um, units)} too large for the bore and never slides."
    if not play.slides():
        return (
            f"it slides with the wall as drawn, and binds where the wall is"
            f" {limits.wall_tolerance_percent} in a hundred thicker."
        )
    if play.drawn_um < wanted:
        return (
            f"it has {spell_thin(play.drawn_um, units)} of play and needs"
            f" {spell_thin(wanted, units)}."
        )
    return ""


def no_common_height(sheet: Sheet, _limits: SheetLimits, units: Units) -> Warnings:
    """No pin hole of the stem comes over one of the post, or the pin does not pass."""
    if sheet.fit is None:
        return
    inner, outer = sheet.part(sheet.fit.inner), sheet.part(sheet.fit.outer)
    if not height_settings(inner, outer):
        yield SheetWarning(
            "fit.inner",
            f"No pin hole of {inner.name} comes over one of {outer.name}: mark the pin holes of"
            " both, and keep them inside both parts.",
        )
    for part in (inner, outer):
        yield from _pin_trouble(sheet, part, sheet.fit.pin_um, units)


def _pin_trouble(sheet: Sheet, part: Part, pin_um: int, units: Units) -> Warnings:
    place = sheet.parts.index(part)
    for number, hole in enumerate(part.holes):
        if not hole.is_pin:
            continue
        where = f"{part.name}: the pin hole at {spell_length(hole.from_end_um, units)}"
        field = f"parts[{place}].holes[{number}]"
        if hole.diameter_um < pin_um:
            yield SheetWarning(
                f"{field}.diameter_um",
                f"{where} is {spell_length(hole.diameter_um, units)} wide and the pin"
                f" {spell_length(pin_um, units)}: drill larger or take a thinner pin.",
            )
        if part.section.kind.is_hollow and not hole.through_both:
            yield SheetWarning(
                f"{field}.through_both", f"{where} goes through one wall only: drill both."
            )


def too_little_engaged(sheet: Sheet, limits: SheetLimits, units: Units) -> Warnings:
    """At its highest setting the stem reaches less far into the post than the club asks."""
    least = limits.min_engaged_um
    if sheet.fit is None or least is None:
        return
    inner, outer = sheet.part(sheet.fit.inner), sheet.part(sheet.fit.outer)
    short = [way for way in height_settings(inner, outer) if way.engaged_um < least]
    if short:
        reach = min(way.engaged_um for way in short)
        yield SheetWarning(
            "fit.inner",
            f"At its highest setting {inner.name} reaches {spell_length(reach, units)} into"
            f" {outer.name} and the club's rule asks for {spell_length(least, units)}: move the"
            f" lowest hole of {inner.name} up, or the hole of {outer.name} down.",
        )
