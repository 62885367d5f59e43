"""A tool's inspections: what is on record, and one more written down."""

from __future__ import annotations

from django.contrib import messages
from django.db.models import Q
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.stations import actions, queries
from workshops.stations.forms import InspectionForm
from workshops.stations.models import Tool
from workshops.stations.views.answering import WRITES, kept


@WRITES
@guard(Permission.EDIT_SHEETS)
def inspections(request: ShopRequest, pk: int) -> HttpResponse:
    """Every inspection of a tool, and the form for the next."""
    tool = get_object_or_404(Tool, shop=request.shop, pk=pk)
    now = timezone.now()
    usual = {"on": now.astimezone(request.shop.zone).date(), "months": tool.inspection_months}
    form = InspectionForm(request.POST or None, initial=usual)
    done = kept(request, form, lambda fields: actions.record_inspection(
        tool=tool, by=request.user, at=now, **fields
    ))  # fmt: skip
    if done:
        messages.success(request, f"{tool}: the inspection is written down.")
        return redirect("stations:tools", shop=request.shop.slug)
    page = {
        "tool": tool,
        "form": form,
        "inspected": queries.tools_of(request.shop, only=Q(pk=pk))[0],
    }
    return render(request, "stations/inspections.html", page, status=422 if form.errors else 200)
