"""What a club has decided about its build sheets, as far as the warnings use it."""

from __future__ import annotations

from dataclasses import dataclass, fields


@dataclass(frozen=True, slots=True)
class SheetLimits:
    """The club's rules for its own drawings; ``None`` where it has no rule.

    Parameters
    ----------
    max_ring_diameter_um
        The first turn may be this much across inside, and no more.
    min_wire_um
        The thinnest wire that the club rolls.
    max_mesh_um
        The widest spacing of the mesh.
    min_overlap_um
        Wire that must be left over the closed outer turn.
    min_metal_um
        Metal that must stand between the edge of a hole and the end of its part.
    min_engaged_um
        How far the stem must reach into the post at every height.
    min_clearance_um
        Play wanted across between stem and post; the sheet may ask for more.
    wall_tolerance_percent
        How far a tube's wall may be from what the list says; tube is made to within
        about ten in a hundred.
    """

    max_ring_diameter_um: int | None = None
    min_wire_um: int | None = None
    max_mesh_um: int | None = None
    min_overlap_um: int | None = None
    min_metal_um: int | None = None
    min_engaged_um: int | None = None
    min_clearance_um: int | None = None
    wall_tolerance_percent: int = 10

    def __post_init__(self) -> None:
        for field in fields(self)[:-1]:
            value = getattr(self, field.name)
            if value is not None and value <= 0:
                raise ValueError(f"{field.name} must be more than 0, or left out for no rule")
        if not 0 <= self.wall_tolerance_percent < 50:
            raise ValueError("wall_tolerance_percent must be 0 to 49")
