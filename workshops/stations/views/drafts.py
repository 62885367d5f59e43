"""The forms of a draft, read together."""

from __future__ import annotations

from typing import Any

from django import forms
from django.forms.formsets import DELETION_FIELD_NAME

from workshops.access.guards import ShopRequest
from workshops.stations.models import BuildSheet
from workshops.stations.sheet_forms import (
    FitForm,
    JointForm,
    JointFormSet,
    LegsForm,
    RollForm,
    SheetForm,
)


class SheetForms:
    """Name and note, roll, fit, legs and joints of one draft."""

    def __init__(self, request: ShopRequest, row: BuildSheet) -> None:
        posted, units = request.POST or None, request.shop.length_units
        parts = [(line.part.item.slug, line.part.name) for line in row.sheet_parts.all()]
        of_parts: dict[str, Any] = {"units": units, "parts": parts}
        self.sheet = SheetForm(posted, instance=row)
        self.roll = RollForm(posted, prefix="roll", initial=row.roll, units=units)
        self.fit = FitForm(posted, prefix="fit", initial=row.fit, **of_parts)
        self.legs = LegsForm(posted, prefix="legs", initial=row.legs, **of_parts)
        self.joints = JointFormSet(posted, prefix="joints", initial=row.welds, form_kwargs=of_parts)

    def is_valid(self) -> bool:
        """Whether all of them make sense; each says what does not."""
        # Asked one and all, not up to the first that is wrong: each marks its own fields.
        valid = [form.is_valid() for form in self._forms()]
        return self.joints.is_valid() and all(valid)

    def plain(self) -> dict[str, Any]:
        """The fields as the action takes them."""
        joints = [
            form.plain()
            for form in self.joints.forms
            if isinstance(form, JointForm) and not form.cleaned_data.get(DELETION_FIELD_NAME)
        ]
        return {
            "name": self.sheet.cleaned_data["name"],
            "note": self.sheet.cleaned_data["note"],
            "roll": self.roll.plain(),
            "fit": self.fit.plain(),
            "legs": self.legs.plain(),
            "welds": [joint for joint in joints if joint],
        }

    def told(self) -> list[tuple[str, str]]:
        """What is wrong so far: the field's label and a sentence."""
        return [
            (str(form.fields[name].label) if name in form.fields else "Sheet", str(error))
            for form in [*self._forms(), *self.joints.forms]
            for name, errors in form.errors.items()
            for error in errors
        ]

    def _forms(self) -> tuple[forms.Form | SheetForm, ...]:
        return self.sheet, self.roll, self.fit, self.legs
