"""The main job on the demo, step by step: what each step says and which files it writes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from inventory.places.models import Shop
from workshops.nights.refusals import NightRefused
from workshops.paper.refusals import PaperRefused


@dataclass(frozen=True)
class Bench:
    """What every step gets: the shop, its today, and the folder its files go to."""

    shop: Shop
    today: date
    folder: Path


@dataclass(frozen=True)
class Said:
    """What a step found: lines to print, and the files it wrote."""

    lines: Sequence[str]
    files: Sequence[Path] = ()


@dataclass(frozen=True)
class Step:
    """One part of the main job: its heading, and the function that does it."""

    heading: str
    run: Callable[[Bench], Said]


def run_steps(bench: Bench, say: Callable[[str], object], steps: Sequence[Step]) -> list[Path]:
    """Run the steps in turn, telling each as soon as it is done; gives the files written."""
    bench.folder.mkdir(parents=True, exist_ok=True)
    written: list[Path] = []
    for step in steps:
        try:
            said = step.run(bench)
        except (NightRefused, PaperRefused) as refused:
            # What people did in the demo may stop a step; the others still have their say.
            said = Said([str(refused)])
        say("\n".join(["", step.heading, "-" * len(step.heading), *said.lines]))
        written += said.files
    return written
