"""Which drawing a paper or a file was made from, and whether it may be followed."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Stamp:
    """Number and revision, how the drawing stands, and since when.

    ``warning`` is empty only where the drawing is in force: whoever finds the paper next
    winter has nothing else to go by. ``printed`` says when, on paper.
    """

    drawing: str
    state: str
    warning: str = ""
    printed: str = ""
