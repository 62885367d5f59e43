"""Form fields that several slices use."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from inventory.measures.lengths import (
    MICROMETRES_PER_INCH,
    LengthRefused,
    Units,
    read_length,
    spell_inches,
)


class LengthField(forms.CharField):
    """A length as people type it: ``34``, ``1 1/2``, ``8 ft 6 in``, ``610 mm``.

    Cleans to whole micrometres, or None when left empty. A bare number is in ``units``.
    """

    def __init__(self, *, units: Units = Units.INCH, **kwargs: Any) -> None:
        super().__init__(max_length=40, **kwargs)
        self.units = units
        self.widget.attrs.setdefault("autocomplete", "off")

    def to_python(self, value: Any) -> Any:
        """Micrometres of what was typed."""
        text = str(value or "").strip()
        if not text:
            return None
        if isinstance(value, int):
            return value
        try:
            return read_length(text, self.units)
        except LengthRefused as refused:
            raise ValidationError(str(refused), code="length") from refused

    def prepare_value(self, value: Any) -> Any:
        """The length spelled so that it is read back as the same micrometres."""
        return spell_exactly(value, self.units) if isinstance(value, int) else value

    def run_validators(self, value: Any) -> None:
        """No text validators: the value is a number by now."""

    def validate(self, value: Any) -> None:
        """Refuse an empty field that must be filled."""
        if value is None and self.required:
            raise ValidationError(self.error_messages["required"], code="required")

    def has_changed(self, initial: Any, data: Any) -> bool:
        """Whether another length was typed, however it is spelled."""
        try:
            return bool(self.to_python(initial) != self.to_python(data))
        except ValidationError:
            return True


class SeveralField(forms.ModelMultipleChoiceField[Any]):
    """Rows chosen by ticks; a key that no database holds is refused and not looked up."""

    def clean(self, value: Any) -> Any:
        """The chosen rows."""
        try:
            return super().clean(value)
        except OverflowError as refused:
            raise ValidationError("Choose from those shown here.", code="invalid") from refused


def spell_exactly(micrometres: int, units: Units) -> str:
    """The length in a spelling that reads back as just that many micrometres.

    A fraction when one fits, else decimals of an inch (a wall of 0.083 in), else the
    millimetres, which always do.
    """
    if units is Units.INCH:
        inch = Decimal(micrometres) / MICROMETRES_PER_INCH
        for text in (spell_inches(micrometres, 64), f"{inch:.3f}"):
            if (
                Decimal(text.split()[0].split("/")[0])
                and read_length(f"{text} in", units) == micrometres
            ):
                return f"{text} in"
    return f"{Decimal(micrometres) / 1000:f} mm"
