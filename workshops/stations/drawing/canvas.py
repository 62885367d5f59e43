"""A sheet of paper to draw on, 160 mm wide, that ends up as SVG text."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from enum import Enum
from xml.sax.saxutils import escape, quoteattr

WIDTH_MM = 160.0
SMALL_MM, BODY_MM, HEADING_MM = 3.6, 4.0, 5.4  # 10.2, 11.3 and 15.3 point
FONT = "Source Sans Pro"
OLD_GREY = "#777"  # a third lighter than any black line, and still four to one on white
_NARROW, _WIDE = frozenset("ijl.,:;'|!() "), frozenset("mwMW@%")

Data = Mapping[str, int | float | str]
Point = tuple[float, float]


class Pen(Enum):
    """Line kinds: width in millimetres and dashes."""

    OUTLINE = (0.55, "")
    THIN = (0.25, "")
    HAIR = (0.14, "")
    HIDDEN = (0.3, "1.6 1")
    CENTRE = (0.2, "5 1 1 1")
    HEAVY = (0.9, "")
    OLD = (0.6, "2.4 1.4")  # of a revision that was drawn over, in grey


class Anchor(Enum):
    """Which part of a text stands at its place."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(slots=True)
class Canvas:
    """Shapes in the order they are drawn; places are millimetres from the top left.

    A sheet is 160 mm wide unless it is made for a paper of its own.

    ``um_per_mm`` is how many micrometres of the real thing one millimetre shows along the
    part; ``origin_mm`` is where its end A lies. Both go on the root for whoever measures.
    """

    title: str
    desc: str
    um_per_mm: int = 1_000
    origin_mm: float = 0.0
    width_mm: float = WIDTH_MM
    shapes: list[str] = field(default_factory=list)

    def line(self, start: Point, end: Point, pen: Pen, data: Data | None = None) -> None:
        """A straight line."""
        self._add(
            f'<line x1="{mm(start[0])}" y1="{mm(start[1])}" x2="{mm(end[0])}" y2="{mm(end[1])}"'
            f" {_stroke(pen)}",
            data,
        )

    def rect(self, corner: Point, size: Point, pen: Pen, *, fill: str = "none") -> None:
        """An upright rectangle from its top left corner."""
        self._add(
            f'<rect x="{mm(corner[0])}" y="{mm(corner[1])}" width="{mm(size[0])}"'
            f' height="{mm(size[1])}" fill="{fill}" {_stroke(pen)}',
            None,
        )

    def circle(
        self,
        centre: Point,
        radius: float,
        pen: Pen,
        *,
        fill: str = "none",
        data: Data | None = None,
    ) -> None:
        """A circle."""
        self._add(
            f'<circle cx="{mm(centre[0])}" cy="{mm(centre[1])}" r="{mm(radius)}"'
            f' fill="{fill}" {_stroke(pen)}',
            data,
        )

    def polygon(self, points: Iterable[Point], *, fill: str = "#000") -> None:
        """A filled shape without an outline."""
        corners = " ".join(f"{mm(x)},{mm(y)}" for x, y in points)
        self._add(f'<polygon points="{corners}" fill="{fill}"', None)

    def path(
        self, points: Iterable[Point], pen: Pen, *, width: float = 0.0, colour: str = "#000"
    ) -> None:
        """An open line through the points; ``width`` overrides the pen's own."""
        way = " ".join(f"{mm(x)},{mm(y)}" for x, y in points)
        stroke = _stroke(pen)
        if width:
            stroke = f'stroke="{colour}" stroke-width="{mm(width)}" stroke-linejoin="round"'
        self._add(f'<polyline points="{way}" fill="none" {stroke}', None)

    def text(
        self,
        place: Point,
        words: str,
        *,
        size: float = BODY_MM,
        anchor: Anchor = Anchor.START,
        bold: bool = False,
    ) -> None:
        """Words on one line, standing on ``place``; no words draw nothing."""
        if not words:
            return
        weight = ' font-weight="700"' if bold else ""
        self.shapes.append(
            f'<text x="{mm(place[0])}" y="{mm(place[1])}" font-size="{mm(size)}"'
            f' text-anchor="{anchor.value}"{weight}>{escape(words)}</text>'
        )

    def blank(self, corner: Point, size: Point) -> None:
        """Clear a rectangle so that a text can be read over lines."""
        self.shapes.append(
            f'<rect x="{mm(corner[0])}" y="{mm(corner[1])}" width="{mm(size[0])}"'
            f' height="{mm(size[1])}" fill="#fff"/>'
        )

    def to_svg(self, height_mm: float) -> str:
        """The drawing as one SVG element, ``height_mm`` tall."""
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{mm(self.width_mm)}mm"'
            f' height="{mm(height_mm)}mm" viewBox="0 0 {mm(self.width_mm)} {mm(height_mm)}"'
            ' role="img"'
            f' font-family="{FONT}, sans-serif" fill="#000"'
            f' data-um-per-mm="{self.um_per_mm}" data-origin-mm="{mm(self.origin_mm)}">'
        )
        told = f"<title>{escape(self.title)}</title><desc>{escape(self.desc)}</desc>"
        return f"{head}{told}{''.join(self.shapes)}</svg>"

    def _add(self, opening: str, data: Data | None) -> None:
        marks = "".join(f" data-{key}={quoteattr(str(value))}" for key, value in _items(data))
        self.shapes.append(f"{opening}{marks}/>")


def mm(value: float) -> str:
    """A number of millimetres, short: five places hold 0.01 mm at one to a thousand."""
    return f"{value:.5f}".rstrip("0").rstrip(".")


def text_width(words: str, size: float = BODY_MM, *, bold: bool = False) -> float:
    """About how wide the words come out, on the generous side, in millimetres."""
    ems = sum(_em(letter) for letter in words)
    return ems * size * (1.08 if bold else 1.0)


def _em(letter: str) -> float:
    if letter in _NARROW:
        return 0.3
    if letter in _WIDE:
        return 0.86
    return 0.65 if letter.isupper() else 0.51 if letter.isdigit() else 0.55


def wrapped(words: str, width: float, size: float = BODY_MM) -> list[str]:
    """The words broken into lines that fit the width; a long word keeps a line of its own."""
    lines: list[str] = []
    for word in words.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, size) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def _items(data: Data | None) -> Iterable[tuple[str, int | float | str]]:
    return data.items() if data else ()


def _stroke(pen: Pen) -> str:
    width, dashes = pen.value
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    ink = OLD_GREY if pen is Pen.OLD else "#000"
    return f'stroke="{ink}" stroke-width="{width}"{dashed}'
