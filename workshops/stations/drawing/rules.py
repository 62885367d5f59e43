"""Rules to measure after printing: exactly 100 mm, a tick every 10 mm."""

from __future__ import annotations

from workshops.stations.drawing.canvas import SMALL_MM, Anchor, Canvas, Pen, Point

RULE_MM = 100.0
_TICK_MM = 10
_LONG, _SHORT = 4.5, 2.6


def level_rule(canvas: Canvas, start: Point) -> None:
    """A rule to the right from ``start``, its ticks above it."""
    x, y = start
    canvas.line(start, (x + RULE_MM, y), Pen.THIN, {"rule-mm": f"{RULE_MM:g}"})
    for at in range(0, int(RULE_MM) + 1, _TICK_MM):
        canvas.line((x + at, y), (x + at, y - _tall(at)), Pen.THIN)
    canvas.text((x + RULE_MM + 2, y), f"{RULE_MM:g} mm", size=SMALL_MM, bold=True)


def upright_rule(canvas: Canvas, start: Point) -> None:
    """A rule down from ``start``, its ticks to the right, its length said above it."""
    x, y = start
    canvas.line(start, (x, y + RULE_MM), Pen.THIN, {"rule-mm": f"{RULE_MM:g}"})
    for at in range(0, int(RULE_MM) + 1, _TICK_MM):
        canvas.line((x, y + at), (x + _tall(at), y + at), Pen.THIN)
    words = f"{RULE_MM:g} mm"
    canvas.text((x - 3, y - 2.5), words, size=SMALL_MM, anchor=Anchor.START, bold=True)


def _tall(at: int) -> float:
    return _LONG if at % 50 == 0 else _SHORT
