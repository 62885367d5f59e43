"""How days are written in the sentences of this slice."""

from __future__ import annotations

from datetime import date


def spell_day(day: date) -> str:
    """A day as people write it: ``Jan 14, 2026``."""
    return f"{day:%b} {day.day}, {day.year}"
