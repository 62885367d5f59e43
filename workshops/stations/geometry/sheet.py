"""A build sheet as frozen values that refuse nonsense at birth.

Refused is what no drawing can be made of. A stem that binds in its post or a ring over
the club's limit can be kept while a person types: ``warnings`` says what to mend.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum
from typing import Any

from inventory.engines import strict
from workshops.stations.geometry.parts import Part, PartRole
from workshops.stations.geometry.refuse import positive, written


class JointKind(Enum):
    """How two parts of a head are held together."""

    WELD = "weld"
    BOLT = "bolt"


@dataclass(frozen=True, slots=True)
class Joint:
    """Where ``part`` is held on ``onto``, both named by their item.

    ``at_um`` is along ``onto`` from its end A, ``part_at_um`` along ``part`` from its
    own end A, both before bending. ``note`` is said on the drawing: "all round".
    """

    part: str
    onto: str
    at_um: int
    part_at_um: int
    kind: JointKind = JointKind.WELD
    note: str = ""

    def __post_init__(self) -> None:
        written(self, "part", "onto")
        if self.at_um < 0 or self.part_at_um < 0:
            raise ValueError("at_um must be 0 or more")
        if self.part == self.onto:
            raise ValueError("onto a part cannot be held on itself")


@dataclass(frozen=True, slots=True)
class RollSpec:
    """How one piece of wire, straw and hay become a nest cylinder.

    Parameters
    ----------
    piece_length_um, width_um
        The wire piece; its width is the length of the cylinder.
    ring_um
        Around the first turn where it is closed on itself; less than the piece.
    layer_um
        Thickness of the straw between first and outer turn.
    rings_min, rings_max
        Hog rings along the closing edge.
    fill_percent
        How full the inside is packed with nest hay, 1 to 100.
    straw_g_per_litre, hay_g_per_litre
        How heavy straw and hay are as packed; ``None`` where nobody has weighed any.
    """

    piece_length_um: int
    width_um: int
    mesh_long_um: int
    mesh_short_um: int
    wire_um: int
    ring_um: int
    layer_um: int
    rings_min: int
    rings_max: int
    fill_percent: int
    straw_g_per_litre: int | None = None
    hay_g_per_litre: int | None = None

    def __post_init__(self) -> None:
        positive(self, "piece_length_um", "width_um", "mesh_long_um", "mesh_short_um")
        positive(self, "wire_um", "ring_um", "layer_um", "rings_min")
        if self.ring_um >= self.piece_length_um:
            raise ValueError("ring_um the first turn must be shorter than the wire piece")
        if self.rings_max < self.rings_min:
            raise ValueError("rings_max must be at least rings_min")
        if not 1 <= self.fill_percent <= 100:
            raise ValueError("fill_percent must be 1 to 100")
        for name in ("straw_g_per_litre", "hay_g_per_litre"):
            value = getattr(self, name)
            if value is not None and value <= 0:
                raise ValueError(f"{name} must be more than 0, or left out")


@dataclass(frozen=True, slots=True)
class FitSpec:
    """Which part slides into which, both named by their item, and with what pin.

    ``clearance_um`` is the play wanted across the two (outside of one, bore of the
    other) with walls as drawn; ``pin_um`` the diameter of the pin or bolt.
    """

    inner: str
    outer: str
    clearance_um: int
    pin_um: int

    def __post_init__(self) -> None:
        written(self, "inner", "outer")
        positive(self, "pin_um")
        if self.clearance_um < 0:
            raise ValueError("clearance_um must be 0 or more")
        if self.inner == self.outer:
            raise ValueError("outer a part cannot slide into itself")


@dataclass(frozen=True, slots=True)
class LegsSpec:
    """Legs in place of a post: ``lean_deg`` is how far each leans from upright."""

    part: str
    count: int
    lean_deg: int

    def __post_init__(self) -> None:
        written(self, "part")
        # Two legs are a ladder.
        if self.count < 3:
            raise ValueError("count a stand needs three legs or more")
        if not 1 <= self.lean_deg <= 60:
            raise ValueError("lean_deg must be 1 to 60 degrees")


@dataclass(frozen=True, slots=True)
class Sheet:
    """One build sheet at one revision."""

    name: str
    drawing_number: str
    revision: str
    parts: tuple[Part, ...]
    joints: tuple[Joint, ...] = ()
    roll: RollSpec | None = None
    fit: FitSpec | None = None
    legs: LegsSpec | None = None

    def __post_init__(self) -> None:
        written(self, "name", "drawing_number", "revision")
        items = [part.item for part in self.parts]
        for item in items:
            # Joints and the fit name a part by its item, which must then mean one thing.
            if items.count(item) > 1:
                raise ValueError(f"parts: {item} is on the sheet twice; use its count")
        for key, item in self._named_items():
            if item not in items:
                raise ValueError(f"{key}: {item} is not a part of this sheet")

    def _named_items(self) -> Iterable[tuple[str, str]]:
        for place, joint in enumerate(self.joints):
            yield f"joints[{place}].part", joint.part
            yield f"joints[{place}].onto", joint.onto
        if self.fit:
            yield "fit.inner", self.fit.inner
            yield "fit.outer", self.fit.outer
        if self.legs:
            yield "legs.part", self.legs.part

    @classmethod
    def from_json(cls, raw: object) -> Sheet:
        """The sheet of plain dictionaries, lengths in whole micrometres.

        Raises
        ------
        ProblemRefused
            Naming the key and the reason.
        """
        return strict.from_json(cls, raw, "sheet")

    def to_json(self) -> Any:
        """Plain dictionaries, ready for ``json.dump``: the inverse of ``from_json``."""
        return strict.to_json(self)

    def part(self, item: str) -> Part:
        """The part of that item; ``KeyError`` when the sheet has none."""
        for part in self.parts:
            if part.item == item:
                return part
        raise KeyError(item)

    def parts_in_role(self, role: PartRole) -> tuple[Part, ...]:
        """The parts with that role in the order of the sheet; may be empty."""
        return tuple(part for part in self.parts if part.role is role)

    def welds(self) -> tuple[Joint, ...]:
        """The joints that are welded; empty for a bolted head."""
        return tuple(joint for joint in self.joints if joint.kind is JointKind.WELD)
