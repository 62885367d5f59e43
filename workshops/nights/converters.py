"""The night in an address is its date, as people write it on the calendar."""

from __future__ import annotations

from datetime import date


class DayConverter:
    """``2026-01-14`` in an address."""

    regex = r"\d{4}-\d{2}-\d{2}"

    def to_python(self, value: str) -> date:
        """The date; ``ValueError`` (so 404) for one that does not exist."""
        return date.fromisoformat(value)

    def to_url(self, value: date | str) -> str:
        """The address's part."""
        return value if isinstance(value, str) else value.isoformat()
