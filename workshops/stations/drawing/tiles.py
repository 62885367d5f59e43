"""How a drawing at true size is cut into sheets of paper that lap over each other."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from workshops.stations.drawing.canvas import Point

LAP_MM = 12.0  # what two neighbours both show
MARGIN_MM = 8.0  # office printers reach this far
SIDE_MM, FOOT_MM = 17.0, 26.0  # for the upright rule; for the level rule, its words, the map


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper as it lies in the printer, millimetres."""

    width_mm: float
    height_mm: float

    def turned(self) -> Paper:
        """The same sheet on its side."""
        return Paper(self.height_mm, self.width_mm)


@dataclass(frozen=True, slots=True)
class Tile:
    """One sheet of those laid side by side; ``number`` counts the sheets printed from 1."""

    number: int
    column: int
    row: int


@dataclass(frozen=True, slots=True)
class Tiling:
    """A drawing laid over sheets.

    Parameters
    ----------
    paper
        The sheet, its long side up or level.
    head_mm
        Room kept for words at the top of every sheet.
    columns, rows
        How many sheets side by side, and below each other, the whole drawing takes.
    shift
        Where the drawing's top left lies in the sheets laid together, millimetres.
    tiles
        The sheets that are printed, those that show nothing left out.
    """

    paper: Paper
    head_mm: float
    columns: int
    rows: int
    shift: Point
    tiles: tuple[Tile, ...] = ()

    @property
    def corner(self) -> Point:
        """Where the drawing begins on every sheet."""
        return MARGIN_MM + SIDE_MM, MARGIN_MM + self.head_mm

    @property
    def size(self) -> Point:
        """How much of the drawing one sheet shows."""
        return _size(self.paper, self.head_mm)

    @property
    def step(self) -> Point:
        """From one sheet to the next."""
        return self.size[0] - LAP_MM, self.size[1] - LAP_MM

    def at(self, tile: Tile, place: Point) -> Point:
        """Where a place of the drawing lies on that sheet; it may be off it."""
        origin = self.origin(tile)
        return place[0] + origin[0], place[1] + origin[1]

    def origin(self, tile: Tile) -> Point:
        """Where the drawing's top left would lie on that sheet."""
        (left, top), (across, down) = self.corner, self.step
        return (
            left + self.shift[0] - tile.column * across,
            top + self.shift[1] - tile.row * down,
        )

    def owns(self, tile: Tile, place: Point) -> bool:
        """Whether a place of the drawing is that sheet's: of what two show, each has half."""
        return self.cell(place) == (tile.column, tile.row)

    def cell(self, place: Point) -> tuple[int, int]:
        """The column and row of the one sheet that owns a place of the drawing."""
        (across, down), (right, low) = self.step, self.shift
        return (
            _cell(place[0] + right, across, self.columns),
            _cell(place[1] + low, down, self.rows),
        )

    def neighbour(self, tile: Tile, right: int, down: int) -> Tile | None:
        """The printed sheet so many to the right and below; ``None`` where there is none."""
        wanted = tile.column + right, tile.row + down
        return next((one for one in self.tiles if (one.column, one.row) == wanted), None)


def tiled(places: Iterable[Point], drawing: Point, paper: Paper, *, head_mm: float) -> Tiling:
    """The sheets that a drawing takes, fewest first: upright or on its side.

    Parameters
    ----------
    places
        Points along every line of the drawing, no farther apart than a quarter of the lap:
        a sheet that holds none of them is not printed.
    drawing
        Its width and height, millimetres.
    """
    known = list(places)
    ways = [_laid(known, drawing, way, head_mm) for way in (paper, paper.turned())]
    return min(ways, key=lambda way: len(way.tiles))


def _laid(places: list[Point], drawing: Point, paper: Paper, head_mm: float) -> Tiling:
    sizes = _size(paper, head_mm)
    steps = [size - LAP_MM for size in sizes]
    counts = [
        max(1, math.ceil((long - LAP_MM) / step)) for long, step in zip(drawing, steps, strict=True)
    ]
    # In the middle of what the sheets hold, so that no line runs along an edge.
    room = [LAP_MM + count * step for count, step in zip(counts, steps, strict=True)]
    shift = ((room[0] - drawing[0]) / 2, (room[1] - drawing[1]) / 2)
    whole = Tiling(paper, head_mm, counts[0], counts[1], shift)
    cells = sorted({whole.cell(place) for place in places}, key=lambda cell: (cell[1], cell[0]))
    tiles = [Tile(number, *cell) for number, cell in enumerate(cells, start=1)]
    return replace(whole, tiles=tuple(tiles))


def _size(paper: Paper, head_mm: float) -> Point:
    return (
        paper.width_mm - 2 * MARGIN_MM - SIDE_MM,
        paper.height_mm - 2 * MARGIN_MM - head_mm - FOOT_MM,
    )


def _cell(at: float, step: float, count: int) -> int:
    """Which sheet a place belongs to: they part in the middle of the lap."""
    return min(count - 1, max(0, int((at - LAP_MM / 2) // step)))
