"""Form fields that speak the shop's language: lengths as people type them, items by group."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.forms.utils import flatatt
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString

from inventory.materials.models import Item
from inventory.measures.fill import GRAMS_PER_POUND
from inventory.measures.lengths import LengthRefused, Units, read_length, spell_length
from workshops.stock.shelves import GROUPS

LONGEST = 30  # characters of a typed length
WHOLE = "Count whole ones."


class LengthField(forms.Field):
    """A length such as ``34``, ``1 1/2``, ``8 ft 6 in`` or ``610 mm``, kept in micrometres."""

    widget = forms.TextInput

    def __init__(self, *, units: Units = Units.INCH, **rest: Any) -> None:
        super().__init__(**rest)
        self.units = units
        self.widget.attrs |= {"maxlength": LONGEST, "autocomplete": "off"}

    def to_python(self, value: Any) -> int | None:
        """Micrometres; ``None`` when left empty."""
        text = str(value or "").strip()
        if not text:
            return None
        try:
            return read_length(text[:LONGEST], self.units)
        except LengthRefused as refused:
            raise ValidationError(str(refused)) from refused

    def prepare_value(self, value: Any) -> Any:
        """What is shown in the box: micrometres spelled, typed text as it was typed."""
        return spell_length(value, self.units) if isinstance(value, int) else value


class CountField(forms.DecimalField):
    """How many were counted: whole ones, where a thing is never halved."""

    def __init__(self, label: str, item: Item | None = None) -> None:
        places = 0 if item is not None and is_whole(item) else 3
        says = WHOLE if places == 0 else "At most three decimals."
        super().__init__(
            label=label, required=False, min_value=Decimal(0), max_digits=12, decimal_places=places,
            error_messages={"max_decimal_places": says},
        )  # fmt: skip
        self.widget.attrs |= {"inputmode": "decimal" if places else "numeric"}
        self.widget.attrs |= {"class": "form-control", "autocomplete": "off"}


def is_whole(item: Item) -> bool:
    """Whether there is never half of it: pieces of metal, and what is counted one by one."""
    return item.is_by_length or item.unit == "each"


class WeightField(forms.DecimalField):
    """A weight in pounds or kilograms, as the shop measures, kept in whole grams."""

    def __init__(self, *, units: Units = Units.INCH, **rest: Any) -> None:
        self.is_metric = units is Units.MILLIMETRE
        self.grams = Decimal(1000) if self.is_metric else GRAMS_PER_POUND
        usual: dict[str, Any] = {"required": False, "min_value": Decimal("0.01"), "max_digits": 8}
        super().__init__(**(usual | {"decimal_places": 3} | rest))
        self.label = f"{self.label or 'Weight'}, {'kg' if self.is_metric else 'lb'}"

    def clean(self, value: Any) -> Any:
        """Grams; ``None`` when left empty."""
        weight = super().clean(value)
        return None if weight is None else round(weight * self.grams)

    def prepare_value(self, value: Any) -> Any:
        """What is shown in the box: grams as pounds or kilograms, typed text as typed."""
        if not isinstance(value, int):
            return value
        return f"{(value / self.grams).quantize(Decimal('0.01')).normalize():f}"


class ItemSelect(forms.Select):
    """A choice of items: Django renders a template an option, which takes 0.2 s a thousand."""

    def render(
        self,
        name: str,
        value: Any,
        attrs: dict[str, Any] | None = None,
        renderer: Any = None,  # noqa: ARG002
    ) -> SafeString:
        """The same markup, joined in one go."""
        inside = _joined(_choice(key, part, str(value)) for key, part in self.choices)
        flat = flatatt(self.build_attrs(self.attrs, (attrs or {}) | {"name": name}))
        return format_html("<select{}>{}</select>", flat, inside)


def _choice(key: Any, part: Any, chosen: str) -> SafeString:
    if isinstance(part, list):
        options = _joined(_choice(value, text, chosen) for value, text in part)
        return format_html('<optgroup label="{}">{}</optgroup>', key, options)
    mark = " selected" if str(key) == chosen else ""
    return format_html('<option value="{}"{}>{}</option>', key, mark, part)


def _joined(parts: Iterable[SafeString]) -> SafeString:
    return format_html_join("", "{}", ((part,) for part in parts))


def grouped(items: Iterable[Item], empty: str) -> list[Any]:
    """Choices of items under the stock's group names, after an empty one."""
    by_group: dict[str, list[tuple[int, str]]] = {group: [] for group in GROUPS.values()}
    for item in items:
        by_group[GROUPS[item.kind]].append((item.pk, str(item)))
    return [("", empty), *((group, rows) for group, rows in by_group.items() if rows)]
