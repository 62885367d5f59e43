"""The head from the side and from its end, as lines that other drawings place."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from workshops.stations.drawing.canvas import Canvas, Data, Pen, Point
from workshops.stations.drawing.dimensions import weld_mark
from workshops.stations.drawing.profile import Bent, bent, stroke_part
from workshops.stations.geometry.bending import Spot, spot_at
from workshops.stations.geometry.parts import Part, PartRole
from workshops.stations.geometry.sheet import Joint, JointKind, Sheet


@dataclass(frozen=True, slots=True)
class Head:
    """The parts of a head as far as the sheet has them, and how they are joined."""

    bar: Part
    stem: Part
    stem_at_um: int
    rod: Part | None
    rod_joints: tuple[Joint, ...]

    @property
    def rod_shape(self) -> Bent | None:
        """The bent cradle rod."""
        return bent(self.rod) if self.rod else None

    @property
    def rise_um(self) -> int:
        """How far the cradle rods stand above the bar."""
        return self.rod_shape.size_um[1] if self.rod_shape else 0

    @property
    def height_um(self) -> int:
        """From the lower end of the stem to the tips of the rods."""
        return self.stem.length_um + self.bar.section.outside_um + self.rise_um

    @property
    def foot(self) -> Spot | None:
        """The place on the bent rod where it stands on the bar."""
        if self.rod is None:
            return None
        held = self.rod_joints[0].part_at_um if self.rod_joints else self.rod.length_um // 2
        return spot_at(bent(self.rod).runs, held)

    @property
    def reach_um(self) -> tuple[float, float]:
        """How far the head goes to the left and right of its middle, seen from the end."""
        shape, foot = self.rod_shape, self.foot
        if shape is None or foot is None:
            half = self.bar.section.outside_um / 2
            return -half, half
        return shape.left - foot.x_um, shape.right - foot.x_um


def head_of(sheet: Sheet) -> Head | None:
    """The head of the sheet; ``None`` when it lacks a stem or a bar, so has none to draw."""
    stems, bars = sheet.parts_in_role(PartRole.STEM), sheet.parts_in_role(PartRole.BAR)
    rods = sheet.parts_in_role(PartRole.CRADLE_ROD)
    if not stems or not bars:
        return None
    stem, bar, rod = stems[0], bars[0], rods[0] if rods else None
    stem_at = next(iter(_joints(sheet, stem, bar)), None)
    return Head(
        bar=bar,
        stem=stem,
        stem_at_um=stem_at.at_um if stem_at else bar.length_um // 2,
        rod=rod,
        rod_joints=tuple(_joints(sheet, rod, bar)) if rod else (),
    )


@dataclass(frozen=True, slots=True)
class HeadPlace:
    """Where a view stands: ``top_left`` is the top of the bar, at its end A or its middle."""

    top_left: Point
    per_mm: int

    def at(self, x_um: float, y_um: float) -> Point:
        """A place ``x_um`` along and ``y_um`` below the top of the bar."""
        return self.top_left[0] + x_um / self.per_mm, self.top_left[1] + y_um / self.per_mm


def draw_side(canvas: Canvas, head: Head, place: HeadPlace, stem_um: int) -> None:
    """The bar along the paper, the stem under it, the rods seen on edge.

    ``stem_um`` of the stem are shown; when that is less than all, its end is broken off.
    """
    deep = head.bar.section.outside_um
    _tube(canvas, place, (0, 0), (head.bar.length_um, deep))
    _stem(canvas, head, HeadPlace(place.at(head.stem_at_um, deep), place.per_mm), stem_um)
    for joint in head.rod_joints:
        thick = head.rod.section.outside_um if head.rod else 0
        bottom, top = place.at(joint.at_um, 0), place.at(joint.at_um, -head.rise_um)
        stroke_part(canvas, [bottom, top], thick / place.per_mm)
        data: Data = {"um": joint.at_um, "joint": joint.kind.value}
        canvas.line(bottom, place.at(joint.at_um, deep * 0.35), Pen.THIN, data)


def draw_end(canvas: Canvas, head: Head, place: HeadPlace, stem_um: int) -> None:
    """The head seen along the bar: its square end, the stem, the shape of the rods."""
    deep = head.bar.section.outside_um
    _stem(canvas, head, HeadPlace(place.at(0, deep), place.per_mm), stem_um)
    _tube(canvas, place, (-deep / 2, 0), (deep, deep))
    shape, foot = head.rod_shape, head.foot
    if shape is None or foot is None or head.rod is None:
        return
    thick = head.rod.section.outside_um
    way = [place.at(x - foot.x_um, foot.y_um - y - thick / 2) for x, y in shape.way]
    stroke_part(canvas, way, thick / place.per_mm)


def _stem(canvas: Canvas, head: Head, place: HeadPlace, stem_um: int) -> None:
    """The stem hanging from the place of its top, with its pin holes when it is whole."""
    half = head.stem.section.outside_um / 2
    _tube(canvas, place, (-half, 0), (2 * half, stem_um))
    if stem_um < head.stem.length_um:
        broken_off(canvas, place.at(-half, stem_um), place.at(half, stem_um))
        return
    for at in head.stem.pin_holes_um():
        hole: Data = {"um": at, "hole": "pin"}
        centre = place.at(0, head.stem.length_um - at)
        canvas.circle(centre, 0.8, Pen.OUTLINE, fill="#fff", data=hole)


def broken_off(canvas: Canvas, left: Point, right: Point) -> None:
    """A wave over the end of a part that goes on beyond the drawing."""
    wide = right[0] - left[0]
    canvas.blank((left[0] - 0.5, left[1] - 0.6), (wide + 1, 1.6))
    steps = ((-0.6, 0.0), (0.2, 0.9), (0.5, 0.0), (0.8, -0.9), (1.6, 0.0))
    canvas.path([(left[0] + share * wide, left[1] + up) for share, up in steps], Pen.THIN)


def joint_tips(sheet: Sheet, head: Head, place: HeadPlace) -> Iterator[tuple[Joint, Point]]:
    """Every joint on the bar and where it shows from the side, welds marked as it goes."""
    deep = head.bar.section.outside_um
    for joint in sheet.joints:
        if joint.onto == head.bar.item:
            depth = deep if joint.part == head.stem.item else 0
            yield joint, place.at(joint.at_um, depth)


def mark_joint(canvas: Canvas, joint: Joint, tip: Point, half_mm: float, *, below: bool) -> None:
    """Two weld fillets in the corners, or the head of a bolt."""
    if joint.kind is JointKind.BOLT:
        canvas.circle(tip, 1.3, Pen.OUTLINE, fill="#000")
        return
    for side in (-1, 1):
        weld_mark(canvas, (tip[0] + side * half_mm, tip[1]), side, 1 if below else -1)


def _tube(canvas: Canvas, place: HeadPlace, corner_um: Point, size_um: Point) -> None:
    size = size_um[0] / place.per_mm, size_um[1] / place.per_mm
    canvas.rect(place.at(*corner_um), size, Pen.OUTLINE, fill="#fff")


def _joints(sheet: Sheet, part: Part, onto: Part) -> list[Joint]:
    return [j for j in sheet.joints if (j.part, j.onto) == (part.item, onto.item)]
