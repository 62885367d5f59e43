"""The times of a night as a form: doors, stop, lock-up, and a row for each block."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import time

from django import forms

from workshops.nights.forms import Clock
from workshops.nights.models import Night


class TimesForm(forms.Form):
    """When the doors open, when work stops, when the door is locked."""

    doors = forms.TimeField(label="Doors open", widget=Clock())
    stop = forms.TimeField(label="Stop, count and sweep", widget=Clock())
    lock_up = forms.TimeField(label="Lock-up", widget=Clock())


@dataclass
class BlockRow:
    """One row of two times; both empty: no block."""

    number: int
    starts: str
    ends: str
    error: str = ""


@dataclass
class BlockRows:
    """The blocks of a night, one empty row more than it has."""

    night: Night
    given: Mapping[str, str] | None = None
    rows: list[BlockRow] = field(default_factory=list)
    stretches: list[tuple[time, time]] = field(default_factory=list)

    def __post_init__(self) -> None:
        blocks = list(self.night.blocks.all())
        for number in range(len(blocks) + 1):
            row = blocks[number] if number < len(blocks) else None
            starts = f"{row.starts:%H:%M}" if row else ""
            ends = f"{row.ends:%H:%M}" if row else ""
            if self.given is not None:
                starts = self.given.get(f"starts-{number}", "").strip()
                ends = self.given.get(f"ends-{number}", "").strip()
            self.rows.append(BlockRow(number, starts, ends))

    def is_valid(self) -> bool:
        """Whether every row has two times or none; fills ``stretches``."""
        self.stretches = []
        for row in self.rows:
            if not row.starts and not row.ends:
                continue
            try:
                self.stretches.append(
                    (time.fromisoformat(row.starts), time.fromisoformat(row.ends))
                )
            except ValueError:
                row.error = "Give both times, or neither to drop the block."
        return not any(row.error for row in self.rows)
