"""The files of the demo winter, and how they are read."""

from __future__ import annotations

import json
from typing import Any

from django.conf import settings

from inventory.measures.lengths import Units, read_length

Row = dict[str, Any]

FOLDER = settings.BASE_DIR / "fixtures" / "demo_winter"


def read(name: str) -> Row:
    """What the file of that name holds.

    Raises
    ------
    FileNotFoundError
        When the fixtures folder is not beside the code.
    """
    found: Row = json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))
    return found


def length(text: str) -> int:
    """Micrometres of a length as it stands in a file: ``34 1/2 in``."""
    return read_length(text, Units.INCH)


def lengths(row: Row, *names: str) -> dict[str, int]:
    """The named lengths that the row has, as ``<name>_um``."""
    return {f"{name}_um": length(row[name]) for name in names if name in row}


def kept(row: Row, *names: str) -> Row:
    """The named values that the row has, as they are."""
    return {name: row[name] for name in names if name in row}
