"""What do we count, what is it made from, and where does it lie?"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django import forms
from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from inventory.materials import actions
from inventory.materials.models import Item
from inventory.materials.queries import items_of, recipe_of
from inventory.places.actions import add_place as write_place
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.stations.actions import set_parts_list
from workshops.stock.forms.describing import (
    OF_KIND,
    ItemForm,
    PartsListForm,
    PlaceForm,
    kept_fields,
)

WRITES = require_http_methods(["GET", "POST"])


@WRITES
@guard(Permission.EDIT_STOCK)
def add_item(request: ShopRequest) -> HttpResponse:
    """A new thing to count: first what kind it is, then what that kind needs to say."""
    kind = request.POST.get("kind") or request.GET.get("kind", "")
    back = reverse("stock:on_hand", args=[request.shop.slug])
    if request.method == "GET" and kind not in OF_KIND:
        return render(request, "stock/which_kind.html", {"kinds": Item.Kind.choices, "back": back})
    form = ItemForm(request.POST or None, shop=request.shop, kind=kind)
    made = _kept(request, form, lambda: actions.add_item(
        shop=request.shop, kind=form.cleaned_data["kind"], **kept_fields(form)
    ))  # fmt: skip
    if made:
        messages.success(request, f"{made} is added.")
        return redirect("stock:item", shop=request.shop.slug, item=made.slug)
    page = {"form": form, "heading": "What else do we count?", "button": "Add it", "back": back}
    return render(request, "stock/describe.html", page, status=422 if form.is_bound else 200)


@WRITES
@guard(Permission.EDIT_STOCK)
def edit_item(request: ShopRequest, item: str) -> HttpResponse:
    """Describe an item anew."""
    shown = _item(request, item)
    form = ItemForm(request.POST or None, shop=request.shop, instance=shown)
    done = _kept(request, form, lambda: actions.edit_item(
        item=_item(request, item), **kept_fields(form)
    ))  # fmt: skip
    back = reverse("stock:item", args=[request.shop.slug, item])
    if done:
        messages.success(request, f"{done}: kept.")
        return redirect(back)
    page = {"form": form, "heading": f"How do we keep {_item(request, item)}?"}
    page |= {"button": "Keep", "back": back}
    return render(request, "stock/describe.html", page, status=422 if form.is_bound else 200)


@WRITES
@guard(Permission.EDIT_STOCK)
def parts_list(request: ShopRequest, item: str) -> HttpResponse:
    """What an item is made from; the list before is kept, out of use."""
    output = _item(request, item)
    form = PartsListForm(
        request.POST or None, output=output, recipe=recipe_of(output),
        items=list(items_of(request.shop)),
    )  # fmt: skip
    done = _kept(request, form, lambda: set_parts_list(
        output=output, parts=form.parts(), quantity=form.cleaned_data["makes"]
    ))  # fmt: skip
    if done:
        messages.success(request, f"{output.name}: the parts list is in use.")
        return redirect("stock:item", shop=request.shop.slug, item=item)
    page = {"form": form, "item": output}
    return render(request, "stock/parts_list.html", page, status=422 if form.is_bound else 200)


@WRITES
@guard(Permission.EDIT_STOCK)
def add_place(request: ShopRequest) -> HttpResponse:
    """A new place to keep things."""
    form = PlaceForm(request.POST or None, shop=request.shop)
    made = _kept(request, form, lambda: write_place(shop=request.shop, **form.cleaned_data))
    if made:
        messages.success(request, f"{made.name}: a place of the shop.")
        return redirect("stock:count", shop=request.shop.slug)
    page = {"form": form}
    return render(request, "stock/add_place.html", page, status=422 if form.is_bound else 200)


def _item(request: ShopRequest, slug: str) -> Item:
    found = items_of(request.shop).filter(slug=slug).first()
    if found is None:
        raise Http404("There is no such item in this shop.")
    return found


def _kept(request: ShopRequest, form: forms.BaseForm, act: Callable[[], Any]) -> Any:
    """What the action gave, or None when the form or the action refused; the form says why."""
    if request.method != "POST" or not form.is_valid():
        return None
    try:
        return act()
    except ValidationError as refused:
        for field, sentences in refused.message_dict.items():
            form.add_error(field if field in form.fields else None, sentences)
    except actions.RecipeRefused as refused:
        form.add_error(None, str(refused))
    return None
