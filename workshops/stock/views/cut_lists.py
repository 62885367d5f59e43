"""What is sawn from which stick?"""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from inventory.cutting import queries
from inventory.cutting.actions import Asked, CutListRefused, make_cut_list
from inventory.cutting.progress import sticks_cut, sticks_of
from inventory.ledger.queries import on_hand, on_hand_of
from inventory.materials.models import Item
from inventory.materials.queries import (
    PieceWanted,
    metals_of,
    pieces_wanted,
    recipes_in_use,
    sets_of,
)
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.nights.queries import next_night
from workshops.stock.forms.cut_list import MaterialForm, PiecesForm
from workshops.stock.shelves import far
from workshops.stock.times import today_in
from workshops.stock.tonight import cut_for_tonight
from workshops.stock.wanted import nights_ahead, usual_sets

LATEST = 40


@require_GET
@guard(Permission.SEE_STOCK)
def cut_lists(request: ShopRequest) -> HttpResponse:
    """The kept lists, newest first; the next night's plan can have its own made."""
    night = next_night(request.shop, timezone.now())
    runs = list(queries.cut_lists_of(request.shop)[:LATEST])
    cut = sticks_cut(runs)
    page = {
        "runs": [(run, cut.get(run.pk, 0), sticks_of(run)) for run in runs],
        "night": night if night and night.plan_id else None,
    }
    return render(request, "stock/cut_lists.html", page)


@require_POST
@guard(Permission.POST_STOCK)
def tonight(request: ShopRequest) -> HttpResponse:
    """A list for every metal that the next night's plan cuts."""
    night = next_night(request.shop, timezone.now())
    told = cut_for_tonight(night=night, by=request.user) if night else None
    for sentence in told.ready if told else ():
        messages.success(request, sentence)
    if told and told.runs:
        metals = ", ".join(run.item.name for run in told.runs)
        messages.success(request, f"Cut lists for {night}: {metals}.")
    elif not (told and told.ready):
        messages.warning(request, "The plan of the next night cuts nothing. Plan the night first.")
    return redirect("stock:cut_lists", shop=request.shop.slug)


@require_http_methods(["GET", "POST"])
@guard(Permission.POST_STOCK)
def new(request: ShopRequest) -> HttpResponse:
    """Choose what is cut, look over the pieces, make the list."""
    usual = usual_sets(request.shop)
    kinds = list(sets_of(request.shop))
    asked = MaterialForm(
        request.GET if "item" in request.GET else None,
        metals=metals_of(request.shop),
        kinds=kinds,
        wanted={item.pk: usual for item in kinds[:1]},
    )
    page: dict[str, Any] = {"asked": asked}
    if not asked.is_bound or not asked.is_valid():
        return render(request, "stock/new_cut_list.html", page)
    # The question stays in the address, so that the second form can be posted on its own.
    item = asked.cleaned_data["item"]
    form = _pieces_form(request, item, asked.wanted())
    if request.method == "POST" and form.is_valid():
        run = _make(request, item, form)
        if run is not None:
            return redirect("stock:cut_list", shop=request.shop.slug, pk=run)
    there = on_hand_of(item)
    page |= {"form": form, "item": item, "there": there}
    page["total"] = far(there.metal_um, request.shop.length_units)
    return render(request, "stock/new_cut_list.html", page, status=422 if form.is_bound else 200)


def _pieces_form(request: ShopRequest, item: Item, wanted: dict[int, int]) -> PiecesForm:
    pieces = pieces_wanted(item, recipes_in_use(request.shop), wanted)
    return PiecesForm(
        request.POST or None,
        item=item,
        pieces=pieces,
        nights=[day for day, _ in nights_ahead(request.shop, today_in(request.shop), 0)],
        on_rack=_on_rack(request, pieces),
    )


def _on_rack(request: ShopRequest, pieces: list[PieceWanted]) -> dict[int, object]:
    made = {piece.made_into.pk: piece.made_into for piece in pieces}
    return {row.item.pk: row.good for row in on_hand(request.shop, list(made.values()))}


def _make(request: ShopRequest, item: Item, form: PiecesForm) -> int | None:
    try:
        run = make_cut_list(
            shop=request.shop,
            item=item,
            pieces=form.wanted(),
            by=request.user,
            asked=Asked(
                night_key=form.cleaned_data["night"],
                per_set=form.per_set(),
                kerf_um=form.kerf_um(),
                takes_ready=not form.cleaned_data["anew"],
            ),
        )
    except CutListRefused as refused:
        form.add_error(None, str(refused))
        return None
    return run.pk
