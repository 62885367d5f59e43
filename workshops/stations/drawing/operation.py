"""Which drawing a station card shows."""

from __future__ import annotations

from inventory.measures.lengths import Units
from workshops.stations.drawing.head import draw_head
from workshops.stations.drawing.head_view import head_of
from workshops.stations.drawing.parts import draw_part
from workshops.stations.drawing.roll_section import draw_roll_section
from workshops.stations.drawing.set_view import draw_set
from workshops.stations.geometry.sheet import Sheet

ONE_PART = frozenset({"cut", "drill", "bend", "grind"})
WHOLE_HEAD = frozenset({"weld", "spot_weld", "bolt"})
ROLL = frozenset({"roll", "ring", "fill"})
WHOLE_SET = frozenset({"tag", "runner"})


def draw_for_operation(
    station_kind: str, sheet: Sheet, units: Units, *, item: str = ""
) -> str | None:
    """The drawing for a card of that kind of station; ``None`` where there is none to show.

    ``item`` is the part that the operation makes: who cuts, drills or bends sees that part,
    who welds or bolts the head, who rolls, rings or fills the roll, who counts the set.
    """
    items = {part.item for part in sheet.parts}
    if station_kind in ONE_PART and item in items:
        return draw_part(sheet.part(item), units)
    if station_kind in WHOLE_HEAD and head_of(sheet):
        return draw_head(sheet, units)
    if station_kind in ROLL and sheet.roll:
        return draw_roll_section(sheet.roll, units)
    if station_kind in WHOLE_SET:
        return draw_set(sheet, units)
    return None
