"""Read positions back from a drawing, as a ruler would."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

import font_source_sans_pro
from fontTools.ttLib import TTFont

from workshops.stations.drawing.canvas import WIDTH_MM

FONTS = Path(font_source_sans_pro.__file__).parent / "files"
REGULAR, BOLD = (TTFont(FONTS / f"SourceSansPro-{face}.ttf") for face in ("Regular", "Bold"))
SVG = "{http://www.w3.org/2000/svg}"


def parsed(svg: str) -> Element:
    return ElementTree.fromstring(svg)


def marked(root: Element, key: str) -> list[Element]:
    """The shapes that carry ``data-<key>``."""
    return [shape for shape in root.iter() if f"data-{key}" in shape.attrib]


def along_um(root: Element, shape: Element) -> float:
    """How far from end A a shape is drawn, in micrometres of the real thing."""
    x = float(shape.get("cx") or shape.get("x1") or 0)
    return (x - float(root.get("data-origin-mm", 0))) * int(root.get("data-um-per-mm", 0))


def words(root: Element) -> list[str]:
    return [text.text or "" for text in root.iter(f"{SVG}text")]


def off_the_sheet(svg: str) -> list[str]:
    """The texts that leave the paper."""
    root = parsed(svg)
    height = float(root.get("height", "0").removesuffix("mm"))
    return [
        text.text or ""
        for text in root.iter(f"{SVG}text")
        if not (
            extent(text)[0] >= 0
            and extent(text)[1] <= WIDTH_MM
            and 2 <= float(text.get("y", 0)) <= height
        )
    ]


def over_each_other(svg: str) -> list[tuple[str, str]]:
    """The pairs of texts that touch."""
    texts = list(parsed(svg).iter(f"{SVG}text"))
    pairs = [(one, other) for at, one in enumerate(texts) for other in texts[at + 1 :]]
    return [(one.text or "", other.text or "") for one, other in pairs if touch(one, other)]


def extent(text: Element) -> tuple[float, float]:
    """From where to where a text runs across the paper, by the font's own widths."""
    x, width = float(text.get("x", 0)), set_width(text)
    shift = {"start": 0, "middle": width / 2, "end": width}[text.get("text-anchor", "start")]
    return x - shift, x - shift + width


def set_width(text: Element) -> float:
    """How wide the words come out in the font, in millimetres."""
    face = BOLD if text.get("font-weight") else REGULAR
    names, advances = face.getBestCmap(), face["hmtx"]
    ems = sum(advances[names[ord(letter)]][0] for letter in text.text or "")
    return ems / face["head"].unitsPerEm * float(text.get("font-size", 0))


def touch(one: Element, other: Element) -> bool:
    """Whether two texts lie over each other."""
    (left, right), (start, end) = extent(one), extent(other)
    apart = abs(float(one.get("y", 0)) - float(other.get("y", 0)))
    return left < end and start < right and apart < 0.75 * float(one.get("font-size", 0))
