"""A PDF read back: the letters of each page, and their sizes."""

from __future__ import annotations

from io import BytesIO

from pypdf import PdfReader
from pypdf.generic import ContentStream


def pages_of(pdf: bytes) -> list[str]:
    """The letters of every page without blanks: lines break anywhere, in a hyphen too."""
    return [squeezed(page.extract_text()) for page in PdfReader(BytesIO(pdf)).pages]


def squeezed(text: str) -> str:
    """A text without blanks and line ends."""
    return "".join(text.split())


def paper_of(pdf: bytes) -> set[tuple[int, int]]:
    """Width and height of the pages, in points."""
    boxes = [page.mediabox for page in PdfReader(BytesIO(pdf)).pages]
    return {(round(box.width), round(box.height)) for box in boxes}


def sizes_in(pdf: bytes) -> set[float]:
    """The sizes of all letters on the pages, in points, drawings included."""
    reader = PdfReader(BytesIO(pdf))
    streams = (ContentStream(page.get_contents(), reader) for page in reader.pages)
    return set().union(*map(_sizes, streams))


def _sizes(stream: ContentStream) -> set[float]:
    """Font size times the scale of all matrices in force, wherever text is shown."""
    scale, kept, size, text, found = 1.0, [], 0.0, 1.0, set()
    for operands, operator in stream.operations:
        if operator == b"q":
            kept.append(scale)
        elif operator == b"Q":
            scale = kept.pop()
        elif operator == b"cm":
            scale *= _stretch(operands)
        elif operator == b"BT":
            text = 1.0
        elif operator == b"Tm":
            text = _stretch(operands)
        elif operator == b"Tf":
            size = float(operands[1])
        elif operator in (b"Tj", b"TJ"):
            found.add(round(abs(scale * text * size), 2))
    return found


def _stretch(matrix: list) -> float:
    a, b, c, d = (float(value) for value in matrix[:4])
    return abs(a * d - b * c) ** 0.5
