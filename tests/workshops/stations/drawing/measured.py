"""Read positions back from a drawing, as a ruler would."""

from __future__ import annotations

from xml.etree import ElementTree
from xml.etree.ElementTree import Element

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
