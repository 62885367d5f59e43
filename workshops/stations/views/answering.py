"""What the views of this slice share: run an action, answer with the form, lead on."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from workshops.access.guards import ShopRequest
from workshops.stations.refusals import StationsRefused

WRITES = require_http_methods(["GET", "POST"])


def kept(request: ShopRequest, form: forms.BaseForm, act: Callable[[dict[str, Any]], Any]) -> Any:
    """What the action gave, or None when the form or the action refused; the form says why."""
    if request.method != "POST" or not form.is_valid():
        return None
    try:
        return act(dict(form.cleaned_data))
    except StationsRefused as refused:
        form.add_error(refused.field if refused.field in form.fields else None, str(refused))
        return None


def lead_to(request: ShopRequest, page: str, says: str) -> HttpResponse:
    """Off to the page where what is missing is made first, with a sentence that says so."""
    messages.info(request, says)
    return redirect(page, shop=request.shop.slug)


def answer(
    request: ShopRequest, form: forms.BaseForm, heading: str, button: str, back: str, **more: Any
) -> HttpResponse:
    """The page of a form; 422 when it was sent and something is wrong."""
    page = {"form": form, "heading": heading, "button": button, "back": back, **more}
    return render(request, "stations/form.html", page, status=422 if form.is_bound else 200)
