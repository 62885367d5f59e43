"""Form fields for values that rules take."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django import forms

from workshops.club.queries import spell_day_of_year


class DayOfYearField(forms.CharField):
    """A day of every year, written ``31 Oct`` or ``10-31``; kept as ``10-31``."""

    def __init__(self, **kwargs: Any) -> None:
        help_text = f"Month and day, like 31 Oct. {kwargs.pop('help_text', '')}".strip()
        super().__init__(max_length=12, help_text=help_text, **kwargs)

    def prepare_value(self, value: Any) -> Any:
        """As people write it."""
        try:
            return spell_day_of_year(value)
        except (TypeError, ValueError):
            return value

    def clean(self, value: Any) -> Any:
        """Month and day as the rulebook keeps them; None for nothing."""
        text = " ".join(str(super().clean(value) or "").replace(".", " ").split())
        if not text:
            return None
        for form in ("%Y-%m-%d", "%Y %d %b", "%Y %b %d", "%Y %d %B", "%Y %B %d"):
            try:
                joined = f"2025-{text}" if "-" in form else f"2025 {text}"
                return f"{datetime.strptime(joined, form):%m-%d}"
            except ValueError:
                continue
        raise forms.ValidationError("Write a month and day, like 31 Oct.")
