"""Parts as they are cut, drilled and bent: stock sections, holes, bends.

What is merely unwise (a hole off the end of its part) is not refused here: a person
half-way through typing must be able to keep it, and ``warnings`` says what to mend.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from workshops.stations.geometry.refuse import belongs, positive, written


class SectionKind(Enum):
    """The shapes of stock that a build sheet knows."""

    SQUARE_TUBE = "square_tube"
    ROUND_TUBE = "round_tube"
    ROUND_ROD = "round_rod"
    CONDUIT = "conduit"
    WIRE_MESH = "wire_mesh"

    @property
    def is_hollow(self) -> bool:
        """Whether the section has a wall and a bore."""
        return self in (SectionKind.SQUARE_TUBE, SectionKind.ROUND_TUBE, SectionKind.CONDUIT)


class PartRole(Enum):
    """What a part does in the set: the drawings place it by this."""

    POST = "post"
    SOCKET = "socket"  # takes the stem where legs replace the post
    LEG = "leg"
    STEM = "stem"
    BAR = "bar"
    CRADLE_ROD = "cradle_rod"
    WIRE = "wire"
    PIN = "pin"
    OTHER = "other"


class Turn(Enum):
    """To which side the part turns, walking along it from end A."""

    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True, slots=True)
class Section:
    """The stock a part is cut from, seen end on.

    Parameters
    ----------
    outside_um
        Side of square tube, outside diameter of round stock; 0 for wire mesh.
    wall_um
        Wall of tube and conduit; 0 for rod and mesh. Twice the wall is less than outside.
    mesh_long_um, mesh_short_um
        The two spacings of the mesh; 0 for other stock.
    wire_um
        Diameter of the mesh's wire. A gauge number is turned into a diameter before it
        comes here, because one number means three diameters in three gauge systems.
    """

    kind: SectionKind
    outside_um: int = 0
    wall_um: int = 0
    mesh_long_um: int = 0
    mesh_short_um: int = 0
    wire_um: int = 0

    def __post_init__(self) -> None:
        is_mesh = self.kind is SectionKind.WIRE_MESH
        belongs("outside_um", self.outside_um, wanted=not is_mesh, kind=self.kind.value)
        belongs("wall_um", self.wall_um, wanted=self.kind.is_hollow, kind=self.kind.value)
        for name in ("mesh_long_um", "mesh_short_um", "wire_um"):
            belongs(name, getattr(self, name), wanted=is_mesh, kind=self.kind.value)
        if self.kind.is_hollow and 2 * self.wall_um >= self.outside_um:
            raise ValueError("wall_um two walls must be less than the outside size")
        if is_mesh and self.wire_um >= self.mesh_short_um:
            raise ValueError("wire_um the wire must be thinner than the mesh is wide")

    @property
    def inside_um(self) -> int:
        """The bore: outside size less two walls; 0 for rod and mesh."""
        return self.outside_um - 2 * self.wall_um if self.kind.is_hollow else 0


@dataclass(frozen=True, slots=True)
class Hole:
    """A drilled hole, its centre ``from_end_um`` from end A of the straight part.

    ``is_pin`` marks a hole that the height pin goes through. ``through_both`` says that
    the drill goes through both walls (it means nothing in a rod).
    """

    from_end_um: int
    diameter_um: int
    through_both: bool = True
    is_pin: bool = False
    name: str = ""

    def __post_init__(self) -> None:
        positive(self, "from_end_um", "diameter_um")


@dataclass(frozen=True, slots=True)
class Bend:
    """A bend; ``at_um`` is its middle, along the centre line from end A before bending.

    ``angle_deg`` is how far the part turns away from straight, more than 0 and at most
    180, in half degrees. All bends of a part lie in one plane.
    """

    at_um: int
    angle_deg: float
    inside_radius_um: int
    turn: Turn = Turn.LEFT

    def __post_init__(self) -> None:
        positive(self, "at_um", "inside_radius_um")
        # Half degrees are as fine as a bender's scale, and exact in binary.
        if not 0 < self.angle_deg <= 180 or self.angle_deg * 2 % 1:
            raise ValueError("angle_deg must be more than 0, at most 180, in half degrees")


@dataclass(frozen=True, slots=True)
class Part:
    """A part as it is cut from its stock: ``length_um`` is measured before any bend.

    Parameters
    ----------
    item
        Slug of the item that this part is; unique on the sheet.
    stock_length_um
        Length of the stick or roll it comes from; ``None`` when the sheet does not say.
    width_um
        For wire mesh, the width of the piece; 0 for other stock.
    count
        How many go into one set, 1 or more.
    tolerance_um
        The length may be this much more or less.
    end_name
        What people call end A, from which holes and bends are measured. Where a stem
        slides into a post, end A of both is the end at which they meet.
    """

    name: str
    item: str
    role: PartRole
    section: Section
    length_um: int
    holes: tuple[Hole, ...] = ()
    bends: tuple[Bend, ...] = ()
    count: int = 1
    tolerance_um: int = 0
    stock_length_um: int | None = None
    width_um: int = 0
    end_name: str = "left end"

    def __post_init__(self) -> None:
        written(self, "name", "item", "end_name")
        positive(self, "length_um", "count")
        if self.tolerance_um < 0 or self.tolerance_um >= self.length_um:
            raise ValueError("tolerance_um must be 0 or more, and less than the length")
        if self.stock_length_um is not None and self.stock_length_um <= 0:
            raise ValueError("stock_length_um must be more than 0, or left out")
        is_mesh = self.section.kind is SectionKind.WIRE_MESH
        belongs("width_um", self.width_um, wanted=is_mesh, kind=self.section.kind.value)
        if is_mesh and (self.holes or self.bends):
            raise ValueError("holes wire mesh is neither drilled nor bent on a sheet")

    def pin_holes_um(self) -> tuple[int, ...]:
        """Positions of the holes for the height pin, from end A, in order."""
        return tuple(sorted(hole.from_end_um for hole in self.holes if hole.is_pin))
