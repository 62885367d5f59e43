"""How a station card is laid out on one side of one sheet.

What a card says differs from night to night, the sheet does not. So the sizes step down
until everything holds, and blocks move to where room is: the standard places first, so
that people find a thing where it was last night.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from inventory.places.models import Shop

MARGINS_MM = (7, 8, 10, 8)  # top, right, bottom, left: office printers reach this far
GAP_MM = 4.0
PICTURE_MM = 26.0  # a pictogram with its word beside it
DRAWING_LEAST_MM = 110.0
SHORT_NAME = 15  # letters


class Where(Enum):
    """Where a block stands: under the drawing, in the rail beside it, or across the sheet."""

    MAIN = "main"
    RAIL = "rail"
    WIDE = "wide"


@dataclass(frozen=True, slots=True)
class Size:
    """One step of size, in points; ``drawing_mm`` is the drawing's width."""

    steps: float
    body: float
    drawing_mm: float
    box_mm: float = 9.0
    is_run_in: bool = False

    @property
    def tall_mm(self) -> float:
        """Height of a card's head under one line of name."""
        return 17.0 if self.is_run_in else 21.0

    @property
    def icon_mm(self) -> float:
        """Side of a pictogram."""
        return min(12.0, self.body)

    def title_points(self, name: str) -> float:
        """Size of a station's name: a long one is set smaller, so that it keeps to a line."""
        usual = 22.0 if self.is_run_in else 27.0
        return usual if len(name) <= SHORT_NAME else max(15.0, usual * SHORT_NAME / len(name))


# A drawing 142 mm wide keeps its smallest lettering at 9 points; only a card that says
# very much indeed has a narrower one. No text of the card itself goes below 9 points.
SIZES = (
    Size(16, 14, 142),
    Size(14, 12.5, 142),
    Size(14, 11.5, 142),
    Size(13.5, 11, 142),
    Size(13, 10.5, 142),
    Size(12.5, 10, 142),
    Size(12, 9.5, 142, 8),
    Size(12, 9, 142, 7.5),
    Size(11.5, 9, 142, 7),
    Size(11, 9, 142, 7),
    Size(11, 9, 130, 7),
    Size(11, 9, 120, 7),
    Size(11, 9, DRAWING_LEAST_MM, 6.5),
    Size(11, 9, 120, 6.5, is_run_in=True),
    Size(10.5, 9, DRAWING_LEAST_MM, 6.5, is_run_in=True),
    Size(10, 9, DRAWING_LEAST_MM, 6, is_run_in=True),
    Size(9, 9, DRAWING_LEAST_MM, 5, is_run_in=True),
)


@dataclass(frozen=True, slots=True)
class Format:
    """The room between the margins, millimetres."""

    name: str
    width_mm: float
    height_mm: float

    def rail_mm(self, size: Size) -> float:
        """Width of the rail beside the drawing."""
        return self.width_mm - size.drawing_mm - GAP_MM


def _between_margins(name: str, width: float, height: float) -> Format:
    top, right, bottom, left = MARGINS_MM
    return Format(name, width - left - right, height - top - bottom)


FORMATS = {
    Shop.PaperSize.LETTER: _between_margins("letter", 215.9, 279.4),
    Shop.PaperSize.A4: _between_margins("A4", 210, 297),
}


@dataclass(frozen=True, slots=True)
class Layout:
    """One way to lay a card out: the sizes, and where the movable blocks stand."""

    size: Size
    format: Format
    wear: Where
    check: Where
    care: Where

    @property
    def rail_mm(self) -> float:
        """Width of the rail."""
        return self.format.rail_mm(self.size)

    @property
    def wear_in_a_row(self) -> int:
        """Pictograms side by side."""
        return 6 if self.wear is Where.WIDE else max(2, int(self.rail_mm // PICTURE_MM))

    @property
    def never_in_a_row(self) -> int:
        """Forbidden ones side by side: they share the row across the sheet."""
        return 3 if self.wear is Where.WIDE else self.wear_in_a_row
