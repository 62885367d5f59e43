"""Measure a PDF page in millimetres, through every transform of its content."""

from __future__ import annotations

import io
from typing import Any

from pypdf import PdfReader

Segment = tuple[float, float, float, float]
MM = 25.4 / 72


def pages(made: bytes) -> list[Any]:
    return list(PdfReader(io.BytesIO(made)).pages)


def size_mm(page: Any) -> tuple[float, float]:
    return float(page.mediabox.width) * MM, float(page.mediabox.height) * MM


def segments_mm(page: Any) -> list[Segment]:
    """Every straight line of one stretch that is drawn: from and to, up from the page's foot."""
    found: list[Segment] = []
    last: list[tuple[float, float]] = []

    def look(operator: bytes, operands: Any, cm: list[float], _tm: list[float]) -> None:
        if operator not in (b"m", b"l"):
            return
        x, y = float(operands[0]), float(operands[1])
        place = (x * cm[0] + y * cm[2] + cm[4]) * MM, (x * cm[1] + y * cm[3] + cm[5]) * MM
        if operator == b"l" and last:
            found.append((*last[-1], *place))
        last.append(place)

    page.extract_text(visitor_operand_before=look)
    return found
