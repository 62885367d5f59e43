"""Entries that may be one person, and two made one after a look at what that does."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET, require_http_methods

from workshops.access.guards import Permission, ShopRequest, guard
from workshops.people.alike import perhaps_the_same
from workshops.people.merging import merge as make_one
from workshops.people.merging import preview_merge
from workshops.people.models import Person
from workshops.people.names import told_apart
from workshops.people.refusals import PeopleRefused


@require_GET
@guard(Permission.EDIT_PEOPLE)
def alike(request: ShopRequest) -> HttpResponse:
    """Pairs of entries that may be one person, with why."""
    pairs = perhaps_the_same(request.shop)
    names = told_apart({row.pk: row for pair in pairs for row in (pair.one, pair.other)}.values())
    found = [(pair, names[pair.one.pk], names[pair.other.pk]) for pair in pairs[:100]]
    return render(request, "people/alike.html", {"found": found})


@require_http_methods(["GET", "POST"])
@guard(Permission.EDIT_PEOPLE)
def merge(request: ShopRequest, pk: int, other: int) -> HttpResponse:
    """What joining two entries does; and, sent with what was seen, it is done."""
    kept, gone = (get_object_or_404(Person, shop=request.shop, pk=each) for each in (pk, other))
    names = told_apart([kept, gone])
    page = {"kept": kept, "gone": gone, "one": names[kept.pk], "two": names.get(gone.pk)}
    try:
        page["done"] = done = preview_merge(kept, gone, by=request.user)
        if request.method == "POST" and request.POST.get("seen") == done.print:
            make_one(kept=kept, gone=gone, by=request.user)
            messages.success(request, f"{kept}: one entry now, with everything of both.")
            return redirect("people:person", shop=request.shop.slug, pk=pk)
    except PeopleRefused as refused:
        page["refused"] = str(refused)
    is_stale = request.method == "POST"
    page["is_stale"] = is_stale
    return render(request, "people/merge.html", page, status=409 if is_stale else 200)
