"""Where does one thing lie, what is it for, and what happened to it?"""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from inventory.deliveries.queries import coated_of
from inventory.ledger import actions
from inventory.ledger.models import Condition
from inventory.ledger.queries import balances_of, movements, on_hand_of
from inventory.materials.models import Item
from inventory.materials.queries import items_of, recipe_of, used_in
from inventory.needs.queries import latest_needs
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.stock.about import about, packs_of
from workshops.stock.forms.set_aside import (
    BACK,
    BACK_HELD,
    HOLD,
    MOVE,
    RELEASE,
    RETURN,
    SET_OUT,
    SET_OUT_KINDS,
    SetAsideForm,
)
from workshops.stock.pacing import leaf_before
from workshops.stock.sawing import heaped
from workshops.stock.shelves import far, unit_of
from workshops.stock.standing import after_sets_of, standing_of
from workshops.stock.times import moment_of


@require_GET
@guard(Permission.SEE_STOCK)
def item(request: ShopRequest, item: str) -> HttpResponse:
    """Balances by place and length, uses, movements; the movements alone for htmx."""
    shown = _item(request, item)
    page = {
        "item": shown,
        "moves": leaf_before(movements(request.shop, item=shown), request.GET.get("before", "")),
    }
    if request.htmx:
        return render(request, "stock/_movements.html", page)
    uses, there = list(used_in(shown)), on_hand_of(shown)
    balances, recipe = list(balances_of(shown)), recipe_of(shown)
    page["comes_back"] = shown.kind in SET_OUT_KINDS
    page |= about(there, balances=balances, recipe=recipe, uses=uses)
    page |= heaped(shown, timezone.now())
    page |= {
        "there": there,
        "unit": unit_of(shown),
        "total": far(there.metal_um, request.shop.length_units),
        "balances": balances,
        "recipe": recipe,
        "uses": uses,
        "packs": packs_of(there),
        "coated": coated_of(request.shop, [shown.pk]) if shown.is_by_length else (),
        "standing": standing_of(
            there, is_used=bool(uses), after_sets=after_sets_of(latest_needs(request.shop))
        ),
    }
    return render(request, "stock/item.html", page)


@require_http_methods(["GET", "POST"])
@guard(Permission.POST_STOCK)
def set_aside(request: ShopRequest, item: str) -> HttpResponse:
    """Carry, hold, release, scrap or take back in; nothing typed is lost when it is refused."""
    shown = _item(request, item)
    balances = balances_of(shown)
    begun = {"spot": request.GET.get("spot"), "act": MOVE if balances else BACK}
    form = SetAsideForm(request.POST or None, item=shown, initial=begun)
    if request.method == "POST" and form.is_valid() and _set_aside(request, shown, form):
        return redirect("stock:item", shop=request.shop.slug, item=shown.slug)
    page = {"item": shown, "form": form, "balances": balances}
    return render(request, "stock/set_aside.html", page, status=422 if form.is_bound else 200)


def _item(request: ShopRequest, slug: str) -> Item:
    found = items_of(request.shop).filter(slug=slug).first()
    if found is None:
        raise Http404("There is no such item in this shop.")
    return found


def _set_aside(request: ShopRequest, item: Item, form: SetAsideForm) -> bool:
    given = form.cleaned_data
    spot, act = given["spot"], given["act"]
    usual = {"shop": request.shop, "item": item, "quantity": given["quantity"]}
    usual |= {"reason": given["reason"], "by": request.user}
    usual |= {"at": moment_of(None, request.shop), "client_key": given["key"]}
    if act not in (BACK, BACK_HELD):
        usual["length_um"] = spot.length_um
    try:
        if act in (BACK, BACK_HELD):
            condition = Condition.HOLD if act == BACK_HELD else Condition.GOOD
            actions.bring_back(place=given["target"], condition=condition, **usual)
        elif act == MOVE:
            there = {"source": spot.place, "target": given["target"]}
            actions.move(condition=spot.condition, **there, **usual)
        elif act == HOLD:
            actions.hold(place=spot.place, **usual)
        elif act == RELEASE:
            actions.release(place=spot.place, **usual)
        elif act == RETURN:
            actions.return_goods(place=spot.place, condition=spot.condition, **usual)
        elif act == SET_OUT:
            actions.set_out(place=spot.place, **usual)
        else:
            actions.scrap(place=spot.place, condition=spot.condition, **usual)
    except actions.PostingRefused as refused:
        form.add_error(None, str(refused))
        return False
    messages.success(request, f"Written in the book: {dict(form.fields['act'].choices)[act]}.")  # type: ignore[attr-defined]
    return True
