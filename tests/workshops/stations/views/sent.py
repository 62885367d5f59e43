"""What the forms of parts and drafts send: the values a page shows, with some changed."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse


def as_shown(answer: HttpResponse, **changed: Any) -> dict[str, Any]:
    """The fields of the page's forms as a browser would send them back."""
    forms = answer.context["forms"]
    sent: dict[str, Any] = {}
    for name in ("part", "sheet", "roll", "fit", "legs"):
        if hasattr(forms, name):
            _take(sent, getattr(forms, name))
    for name in ("holes", "bends", "joints"):
        if hasattr(forms, name):
            formset = getattr(forms, name)
            _take(sent, formset.management_form)
            for form in formset.forms:
                _take(sent, form)
    return {name: value for name, value in (sent | changed).items() if value is not None}


def _take(sent: dict[str, Any], form: Any) -> None:
    for bound in form:
        value = bound.value()
        value = bound.field.prepare_value(value)
        if value is not None and value is not False and value != "":
            sent[bound.html_name] = "on" if value is True else value
