"""The drawing changed: what lies by the old one, and what becomes of it?"""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from inventory.ledger.actions import PostingRefused
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.stations.models import BuildSheet
from workshops.stations.queries import sheets_of
from workshops.stock.cut_over import actions, queries
from workshops.stock.cut_over.lying import Before, look_before
from workshops.stock.forms.cut_over import FatesForm
from workshops.stock.models import CutOver


@require_GET
@guard(Permission.SEE_STOCK)
def cut_overs(request: ShopRequest) -> HttpResponse:
    """Drawings that took the place of another, and what of the old is still to be used up."""
    page = {
        "sheets": queries.changed_sheets(request.shop), "old": queries.old_ones(request.shop)
    }  # fmt: skip
    return render(request, "stock/cut_overs.html", page)


@require_GET
@guard(Permission.SEE_STOCK)
def cut_over(request: ShopRequest, pk: int) -> HttpResponse:
    """What changed in numbers, what lies there, and what was decided before."""
    sheet = _sheet(request, pk)
    look = look_before(sheet)
    decided = list(queries.cut_overs_of(sheet))
    is_open = bool(look and look.lying) and (not decided or "again" in request.GET)
    form = FatesForm(lying=look.lying) if look and is_open else None
    return _page(request, sheet, look, form, decided=decided)


@require_POST
@guard(Permission.POST_STOCK)
def decide(request: ShopRequest, pk: int) -> HttpResponse:
    """Post every fate at once; counts that changed meanwhile are shown anew."""
    sheet = _sheet(request, pk)
    look = look_before(sheet)
    form = FatesForm(request.POST, lying=look.lying if look else ())
    if form.is_valid() and _decide(request, sheet, form):
        return redirect("stock:cut_over", shop=request.shop.slug, pk=pk)
    return _page(request, sheet, look, form)


def _sheet(request: ShopRequest, pk: int) -> BuildSheet:
    return get_object_or_404(sheets_of(request.shop), pk=pk)


def _page(
    request: ShopRequest,
    sheet: BuildSheet,
    look: Before | None,
    form: FatesForm | None,
    *,
    decided: list[CutOver] | None = None,
) -> HttpResponse:
    page = {"sheet": sheet, "look": look, "form": form, "decided": decided or []}
    status = 422 if form is not None and form.is_bound else 200
    return render(request, "stock/cut_over.html", page, status=status)


def _decide(request: ShopRequest, sheet: BuildSheet, form: FatesForm) -> bool:
    try:
        actions.cut_over(
            sheet=sheet,
            fates=form.fates(),
            by=request.user,
            at=timezone.now(),
            client_key=form.cleaned_data["key"],
        )
    except actions.CountsChanged as refused:
        form.add_error(None, str(refused))
        form.see_anew()
        return False
    except actions.CutOverRefused as refused:
        form.add_error(None, str(refused))
        form.note(refused.spots)
        return False
    except PostingRefused as refused:
        form.add_error(None, str(refused))
        return False
    messages.success(request, "Decided and written in the book, all of it. Print the cards anew.")
    return True
