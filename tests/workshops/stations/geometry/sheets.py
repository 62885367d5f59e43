"""Invented build sheets for the tests: a single-post cylinder, a stand, a bolted head."""

from __future__ import annotations

from dataclasses import replace

from inventory.measures.lengths import feet, inches
from workshops.stations.geometry.parts import Bend, Hole, Part, PartRole, Section, SectionKind, Turn
from workshops.stations.geometry.sheet import FitSpec, Joint, JointKind, LegsSpec, RollSpec, Sheet

TUBE_POST = Section(SectionKind.SQUARE_TUBE, outside_um=inches("1 3/4"), wall_um=2_110)
TUBE_STEM = Section(SectionKind.SQUARE_TUBE, outside_um=inches("1 1/4"), wall_um=2_110)
ROD = Section(SectionKind.ROUND_ROD, outside_um=inches("5/16"))
CONDUIT = Section(SectionKind.CONDUIT, outside_um=29_540, wall_um=1_448)
MESH = Section(
    SectionKind.WIRE_MESH, mesh_long_um=inches(2), mesh_short_um=inches(1), wire_um=2_032
)

POST = Part(
    "Post", "post-9", PartRole.POST, TUBE_POST, feet(9),
    holes=(Hole(inches(7), inches("7/16"), is_pin=True, name="pin"),),
    tolerance_um=inches("1/8"), stock_length_um=feet(20), end_name="top",
)  # fmt: skip
STEM = Part(
    "Stem", "stem", PartRole.STEM, TUBE_STEM, inches(32),
    holes=tuple(Hole(inches(at), inches("7/16"), is_pin=True, name="pin") for at in (5, 11, 17)),
    tolerance_um=inches("1/16"), stock_length_um=feet(20), end_name="lower end",
)  # fmt: skip
BAR = Part(
    "Bar", "bar", PartRole.BAR, TUBE_STEM, inches(20),
    tolerance_um=inches("1/16"), stock_length_um=feet(20),
)  # fmt: skip
CRADLE = Part(
    "Cradle rod", "cradle-rod", PartRole.CRADLE_ROD, ROD, inches(22),
    bends=(
        Bend(inches(7), 40, inches("1 1/2"), Turn.LEFT),
        Bend(inches(15), 40, inches("1 1/2"), Turn.LEFT),
    ),
    count=2, tolerance_um=inches("1/8"), stock_length_um=feet(20),
)  # fmt: skip
WIRE = Part(
    "Wire piece", "wire-piece", PartRole.WIRE, MESH, inches(88),
    stock_length_um=feet(100), width_um=inches(36), tolerance_um=inches("1/2"),
)  # fmt: skip
ROLL = RollSpec(
    piece_length_um=inches(88), width_um=inches(36),
    mesh_long_um=inches(2), mesh_short_um=inches(1), wire_um=2_032,
    ring_um=inches(35), layer_um=inches("1 7/8"), rings_min=9, rings_max=13, fill_percent=70,
    straw_g_per_litre=90, hay_g_per_litre=60,
)  # fmt: skip
JOINTS = (
    Joint("stem", "bar", inches(10), inches(32), note="all round"),
    Joint("cradle-rod", "bar", inches(3), inches(11), note="both sides"),
    Joint("cradle-rod", "bar", inches(17), inches(11), note="both sides"),
)
FIT = FitSpec("stem", "post-9", inches("1/16"), inches("3/8"))

CYLINDER = Sheet(
    "Single-post nest cylinder", "NC-31", "C", (POST, STEM, BAR, CRADLE, WIRE), JOINTS, ROLL, FIT
)

SOCKET = Part(
    "Socket", "socket", PartRole.SOCKET, TUBE_POST, inches(10),
    holes=(Hole(inches(3), inches("7/16"), is_pin=True, name="pin"),),
    stock_length_um=feet(20), end_name="top",
)  # fmt: skip
LEG = Part(
    "Leg", "leg", PartRole.LEG, CONDUIT, feet(9), count=3, stock_length_um=feet(10), end_name="top"
)
STAND = Sheet(
    "Three-leg stand", "NC-34", "A", (SOCKET, LEG, STEM, BAR, CRADLE, WIRE),
    (*JOINTS, Joint("leg", "socket", inches(5), inches(4), note="all round")), ROLL,
    FitSpec("stem", "socket", inches("1/16"), inches("3/8")), LegsSpec("leg", 3, 20),
)  # fmt: skip
BOLTED = replace(
    CYLINDER,
    name="Bolted head",
    drawing_number="NC-37",
    joints=tuple(replace(joint, kind=JointKind.BOLT, note="two bolts") for joint in JOINTS),
)
