"""How long a night's cards take, at nine stations, and how long every kind of drawing.

Run by ``python3 manage.py bench``; never part of the ordinary tests.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from statistics import median
from time import perf_counter, process_time

from inventory.measures.lengths import Units, inches
from tests.workshops.paper.nights import KINDS, PRINTED, a_card, a_night, a_shop
from tests.workshops.stations.geometry.sheets import CRADLE, CYLINDER, ROLL, STAND
from workshops.paper.printing import print_cards
from workshops.stations.drawing.dxf import template_dxf
from workshops.stations.drawing.head import draw_head
from workshops.stations.drawing.overlay import draw_overlay
from workshops.stations.drawing.parts import draw_part
from workshops.stations.drawing.roll_section import draw_roll_section
from workshops.stations.drawing.set_view import draw_set
from workshops.stations.drawing.stamp import Stamp
from workshops.stations.drawing.template import draw_template
from workshops.stations.drawing.tiles import Paper

TIMES = 3
DRAWN_TIMES = 9
MOVED = replace(CRADLE, bends=(CRADLE.bends[0], replace(CRADLE.bends[1], at_um=inches(16))))
STATIONS = 9


def run() -> list[tuple[str, str, str]]:
    """What was measured, the figure, the target."""
    print_cards(a_night(a_shop()), [a_card(random.Random(0), full=0.0)], PRINTED)  # loads fonts
    nights = [
        row
        for name, full in (("a usual night", 0.3), ("the fullest night", 1.0))
        for row in _night(name, full)
    ]
    return [*nights, *_drawings()]


def _drawings() -> list[tuple[str, str, str]]:
    """Milliseconds of each drawing of two whole sheets, and of the files of a bent rod."""
    parts = tuple(MOVED if part.item == MOVED.item else part for part in CYLINDER.parts)
    after, stamp, paper = replace(CYLINDER, parts=parts), Stamp("NC-31", "draft"), Paper(210, 297)
    both = [(sheet, units) for sheet in (CYLINDER, STAND) for units in Units]
    kinds: dict[str, list[Callable[[], object]]] = {
        "a part as SVG": [
            partial(draw_part, part, units) for sheet, units in both for part in sheet.parts
        ],
        "a head as SVG": [partial(draw_head, *each) for each in both],
        "a set as SVG": [partial(draw_set, *each) for each in both],
        "a roll as SVG": [partial(draw_roll_section, ROLL, units) for units in Units],
        "a revision over another as SVG": [
            partial(draw_overlay, MOVED.item, CYLINDER, after, units, told=()) for units in Units
        ],
        "a bend template as SVG": [partial(draw_template, CRADLE, stamp, Units.INCH, paper)],
        "a bend template as DXF": [partial(template_dxf, CRADLE, stamp, Units.INCH)],
    }
    return [
        (f"{kind}: milliseconds, slowest", f"{max(map(_milliseconds, made)):.1f}",
         "20" if kind.endswith("SVG") else "-")
        for kind, made in kinds.items()
    ]  # fmt: skip


def _milliseconds(make: Callable[[], object]) -> float:
    took = []
    for _ in range(DRAWN_TIMES):
        begun = perf_counter()
        make()
        took.append(1_000 * (perf_counter() - begun))
    return median(took)


def _night(name: str, full: float) -> list[tuple[str, str, str]]:
    draw = random.Random(9)
    cards = [a_card(draw, full=full, kind=kind) for kind in KINDS[:STATIONS]]
    walls, cpus = [], []
    for _ in range(TIMES):
        wall, cpu = perf_counter(), process_time()
        made = print_cards(a_night(a_shop()), cards, PRINTED)
        walls.append(perf_counter() - wall)
        cpus.append(process_time() - cpu)
    target = "3" if full < 1 else "-"
    return [
        (f"cards of {name}: pages for {STATIONS} stations", str(made.pages), str(STATIONS)),
        (f"cards of {name}: seconds, median of {TIMES}", f"{median(walls):.1f}", target),
        (f"cards of {name}: of which computing", f"{median(cpus):.1f}", target),
    ]
