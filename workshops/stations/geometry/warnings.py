"""What is wrong with a build sheet, and what to do: one function for each check.

Each check takes the sheet, the club's limits and the shop's units, and yields warnings.
``field`` is the path of the value in the sheet's JSON: ``parts[1].holes[0].from_end_um``.
"""

from __future__ import annotations

from inventory.measures.lengths import Units
from workshops.stations.geometry import fit_warnings, part_warnings, roll_warnings
from workshops.stations.geometry.limits import SheetLimits
from workshops.stations.geometry.sheet import Sheet
from workshops.stations.geometry.warned import Check, SheetWarning

CHECKS: tuple[Check, ...] = (
    roll_warnings.ring_over_the_limit,
    roll_warnings.wire_too_light,
    roll_warnings.mesh_too_wide,
    roll_warnings.wire_too_short,
    roll_warnings.wire_piece_differs,
    part_warnings.hole_outside,
    part_warnings.hole_near_end,
    part_warnings.longer_than_stock,
    fit_warnings.stem_binds,
    fit_warnings.no_common_height,
    fit_warnings.too_little_engaged,
    part_warnings.bends_do_not_fit,
    part_warnings.joint_off_the_part,
)


def warnings_for(sheet: Sheet, limits: SheetLimits, units: Units) -> tuple[SheetWarning, ...]:
    """Everything that the checks find, in the order of ``CHECKS``; empty when nothing."""
    return tuple(found for check in CHECKS for found in check(sheet, limits, units))
