"""How long a night's cards take: nine stations, a usual night and the fullest there can be.

Run by ``python3 manage.py bench``; never part of the ordinary tests.
"""

from __future__ import annotations

import random
from statistics import median
from time import perf_counter, process_time

from tests.workshops.paper.nights import KINDS, PRINTED, a_card, a_night, a_shop
from workshops.paper.printing import print_cards

TIMES = 3
STATIONS = 9


def run() -> list[tuple[str, str, str]]:
    """What was measured, the figure, the target."""
    print_cards(a_night(a_shop()), [a_card(random.Random(0), full=0.0)], PRINTED)  # loads fonts
    return [
        row
        for name, full in (("a usual night", 0.3), ("the fullest night", 1.0))
        for row in _night(name, full)
    ]


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
