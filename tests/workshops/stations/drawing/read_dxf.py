"""Read a DXF back as a jig maker's program does."""

from __future__ import annotations

import io
from typing import Any

import ezdxf
from ezdxf.document import Drawing


def opened(made: bytes) -> Drawing:
    return ezdxf.read(io.StringIO(made.decode()))


def on_layer(doc: Drawing, layer: str) -> list[Any]:
    return list(doc.modelspace().query(f'*[layer=="{layer}"]'))


def words(doc: Drawing) -> list[str]:
    return [text.dxf.text for text in on_layer(doc, "words")]
