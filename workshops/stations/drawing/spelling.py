"""How a drawing says lengths, stock and holes."""

from __future__ import annotations

from inventory.measures.lengths import MICROMETRES_PER_FOOT, Units, spell_length
from workshops.stations.geometry.parts import Hole, Part, Section, SectionKind
from workshops.stations.geometry.spelling import spell_thin

_FEET_FROM = 6  # from here on people think in feet as well

_STOCK = {
    SectionKind.SQUARE_TUBE: "square tube",
    SectionKind.ROUND_TUBE: "round tube",
    SectionKind.ROUND_ROD: "round rod",
    SectionKind.CONDUIT: "conduit",
    SectionKind.WIRE_MESH: "welded wire",
}


def spell_long(micrometres: int, units: Units) -> str:
    """A length with its feet beside it where they come out whole: ``108 in (9 ft)``."""
    feet, rest = divmod(micrometres, MICROMETRES_PER_FOOT)
    spelled = spell_length(micrometres, units)
    if units is Units.INCH and feet >= _FEET_FROM and not rest:
        return f"{spelled} ({feet} ft)"
    return spelled


def spell_stick(micrometres: int, units: Units) -> str:
    """A stick or roll as it is bought: ``20 ft``, ``6096 mm``."""
    feet, rest = divmod(micrometres, MICROMETRES_PER_FOOT)
    if units is Units.INCH and feet >= _FEET_FROM and not rest:
        return f"{feet} ft"
    return spell_length(micrometres, units)


def spell_section(section: Section, units: Units) -> tuple[str, str]:
    """Two short lines that say the stock: size and kind, then wall or wire."""
    kind = _STOCK[section.kind]
    if section.kind is SectionKind.WIRE_MESH:
        spacings = (section.mesh_long_um, section.mesh_short_um)
        first, second = (spell_length(size, units) for size in spacings)
        return f"{kind}, mesh {first} × {second}", f"wire {spell_thin(section.wire_um, units)}"
    if section.kind is SectionKind.CONDUIT:
        size = f"{kind}, {spell_thin(section.outside_um, units)} outside"
    else:
        size = f"{spell_length(section.outside_um, units)} {kind}"
    wall = f"wall {spell_thin(section.wall_um, units)}" if section.wall_um else ""
    return size, wall


def spell_length_of(part: Part, units: Units) -> str:
    """The length of the part with its tolerance: ``32 in ± 1/16``."""
    length = spell_long(part.length_um, units)
    if not part.tolerance_um:
        return length
    return f"{length} ± {spell_length(part.tolerance_um, units)}"


def spell_holes(hole: Hole, count: int, part: Part, units: Units) -> str:
    """One call-out for holes alike: ``3 holes 7/16 in, through both walls, for the pin``."""
    size = spell_length(hole.diameter_um, units)
    words = [f"{count} holes {size}" if count > 1 else f"hole {size}"]
    if part.section.kind.is_hollow:
        words.append("through both walls" if hole.through_both else "through one wall")
    if hole.is_pin:
        words.append("for the pin")
    elif hole.name:
        words.append(hole.name)
    return ", ".join(words)


def spell_angle(degrees: float) -> str:
    """An angle in degrees: ``40°``, ``22.5°``."""
    return f"{degrees:g}°"
