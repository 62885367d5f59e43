"""Lists out: items, stock and movements as CSV or XLSX, and templates to fill in."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from io import BytesIO
from typing import cast

from django.http import FileResponse, Http404, HttpResponse, StreamingHttpResponse
from django.views.decorators.http import require_GET

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.common.sheets import Cell, csv_lines, write_xlsx
from workshops.stock.exchange.kinds import KINDS
from workshops.stock.exchange.outgoing import rows_out, template_rows
from workshops.stock.forms.lists import SpanForm
from workshops.stock.times import today_in

CSV, XLSX = "csv", "xlsx"
XLSX_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


@require_GET
@guard(Permission.SEE_STOCK)
def export_list(request: ShopRequest, kind: str, form: str) -> HttpResponse:
    """A whole list, as it is now; movements of some days when they are given."""
    _refuse_unknown(kind, form)
    span = SpanForm(request.GET)
    days = span.cleaned_data if span.is_valid() else {}
    rows = rows_out(kind, request.shop, days.get("first"), days.get("last"))
    name = f"{request.shop.slug}-{kind}-{today_in(request.shop)}.{form}"
    return _sent(rows, form, name, title=kind)


@require_GET
@guard(Permission.SEE_STOCK)
def list_template(request: ShopRequest, kind: str, form: str) -> HttpResponse:
    """The headings of a list and one example, to be filled in."""
    _refuse_unknown(kind, form)
    rows = template_rows(kind, request.shop)
    return _sent(rows, form, f"{kind}-to-fill-in.{form}", title=kind)


def _refuse_unknown(kind: str, form: str) -> None:
    if kind not in KINDS or form not in (CSV, XLSX):
        raise Http404("There is no such list.")


def _sent(rows: Iterable[Sequence[Cell]], form: str, name: str, *, title: str) -> HttpResponse:
    if form == CSV:
        # Line by line, as the book is read: the first rows arrive while the last are asked.
        answer = StreamingHttpResponse(csv_lines(rows), content_type="text/csv; charset=utf-8")
        answer["Content-Disposition"] = f'attachment; filename="{name}"'
        return cast(HttpResponse, answer)
    # A workbook is packed when it is whole; even a hundred thousand rows are a few megabytes.
    file = BytesIO()
    write_xlsx(rows, title=title.title(), file=file)
    file.seek(0)
    made = FileResponse(file, as_attachment=True, filename=name, content_type=XLSX_TYPE)
    return cast(HttpResponse, made)
