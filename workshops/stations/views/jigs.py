"""Drawings to take away: DXF for a jig maker, bend templates on paper."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.views.decorators.http import require_GET

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.common.pdf import PaperRefused
from workshops.stations import queries
from workshops.stations.drawing.dxf import part_dxf as drawn_flat
from workshops.stations.drawing.dxf import template_dxf as drawn_bent
from workshops.stations.geometry.parts import Part
from workshops.stations.jigs import drawn_part, file_name, print_template, stamp_of
from workshops.stations.models import BuildSheet

DXF_TYPE = "image/vnd.dxf"


@require_GET
@guard(Permission.SEE_SHEETS)
def part_dxf(request: ShopRequest, pk: int, item: str) -> HttpResponse:
    """A part as it is marked out, as DXF."""
    row, part = _drawn(request, pk, item)
    made = drawn_flat(part, stamp_of(row), request.shop.length_units)
    return _file(made, DXF_TYPE, file_name(row, part, "dxf"))


@require_GET
@guard(Permission.SEE_SHEETS)
def template_dxf(request: ShopRequest, pk: int, item: str) -> HttpResponse:
    """The bend template of a part, as DXF."""
    row, part = _bent(request, pk, item)
    made = drawn_bent(part, stamp_of(row), request.shop.length_units)
    return _file(made, DXF_TYPE, file_name(row, part, "template.dxf"))


@require_GET
@guard(Permission.SEE_SHEETS)
def template(request: ShopRequest, pk: int, item: str) -> HttpResponse:
    """The bend template of a part at true size, as a PDF for the shop's paper."""
    row, part = _bent(request, pk, item)
    try:
        made = print_template(row, part, timezone.now())
    except PaperRefused as refused:
        messages.error(request, str(refused))
        return redirect("stations:sheet", shop=request.shop.slug, pk=pk)
    return _file(made, "application/pdf", file_name(row, part, "template.pdf"))


def _drawn(request: ShopRequest, pk: int, item: str) -> tuple[BuildSheet, Part]:
    row = get_object_or_404(queries.sheets_of(request.shop), pk=pk)
    part = drawn_part(row, item)
    if part is None:
        raise Http404("no such part is drawn on this sheet")
    return row, part


def _bent(request: ShopRequest, pk: int, item: str) -> tuple[BuildSheet, Part]:
    row, part = _drawn(request, pk, item)
    if not part.bends:
        raise Http404("the part has no bend, so no template")
    return row, part


def _file(made: bytes, kind: str, name: str) -> HttpResponse:
    answer = HttpResponse(made, content_type=kind)
    answer["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer
