"""Rows of a form: holes, bends, joints."""

from __future__ import annotations

from typing import Any

from django.forms import Form
from django.forms.formsets import DELETION_FIELD_NAME, BaseFormSet


class Rows(BaseFormSet[Form]):
    """A formset whose rows are taken away, in the words of the shop."""

    def add_fields(self, form: Form, index: int | None) -> None:
        """The fields of a row, and a tick to take it away."""
        super().add_fields(form, index)
        if DELETION_FIELD_NAME in form.fields:
            form.fields[DELETION_FIELD_NAME].label = "Take this away"


def rows_of(formset: BaseFormSet[Any]) -> list[dict[str, Any]]:
    """What stands in the rows, without empty ones and those to be taken away."""
    return [
        {name: value for name, value in form.cleaned_data.items() if name != DELETION_FIELD_NAME}
        for form in formset.forms
        if form.cleaned_data and not form.cleaned_data.get(DELETION_FIELD_NAME)
    ]
