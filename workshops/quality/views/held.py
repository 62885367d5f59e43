"""What a failed check held back: how much, where the rest is, and sorting it."""

from __future__ import annotations

import uuid
from datetime import date

from django.contrib import messages
from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.cache import cache_control
from django.views.decorators.http import require_POST

from inventory.ledger.actions import PostingRefused
from inventory.materials.models import Item
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.nights.finding import night_or_404
from workshops.quality import queries
from workshops.quality.actions import CheckRefused, hold_further, sort_held
from workshops.quality.batches import who_made
from workshops.quality.forms import SortForm
from workshops.quality.models import Check, Held
from workshops.quality.sorting import standing_of


@cache_control(no_store=True)
@guard(Permission.RUN_NIGHT)
def held(request: ShopRequest, on: date, pk: int) -> HttpResponse:
    """One held batch; sent, some of it is sorted."""
    night, row = night_or_404(request.shop, on), _held(request, on, pk)
    form = SortForm(request.POST or None)
    if request.method == "POST" and form.is_valid() and _sorted(request, row, form):
        return _back(row)
    since = row.back_to.at if row.back_to and row.back_to.night_id == night.pk else None
    page = {
        "night": night, "row": row, "now": standing_of(row), "form": form,
        "sorts": queries.sorts_of(row), "me": request.user.signs_as,
        "further": [(each, uuid.uuid4()) for each in queries.further_of(row)],
        "elsewhere": [each for each in row.gone if not each["item"]],
        "seen": _seen(row), "mend": SortForm(initial={"from_rework": True}, auto_id="mend_%s"),
        "makers": who_made(night, row.failed.operation, since, row.at),
    }  # fmt: skip
    return render(request, "quality/held.html", page, status=422 if form.errors else 200)


@require_POST
@guard(Permission.RUN_NIGHT)
def further(request: ShopRequest, on: date, pk: int) -> HttpResponse:
    """Hold back the things that have the suspected pieces in them."""
    row = _held(request, on, pk)
    given = request.POST.get("item", "")
    item = get_object_or_404(
        Item.objects.select_related("home", "shop"), shop=request.shop,
        pk=int(given) if given.isdecimal() else 0,
    )  # fmt: skip
    try:
        key = uuid.UUID(request.POST.get("client_key", ""))
        more = hold_further(held=row, item=item, by=request.user, at=timezone.now(), client_key=key)
    except (ValueError, PostingRefused) as refused:
        messages.error(request, f"Nothing was held back. {refused}")
        return _back(row)
    messages.success(request, f"{more.held} {item} are on hold.")
    return _back(more)


def _held(request: ShopRequest, on: date, pk: int) -> Held:
    rows = Held.objects.select_related(
        "item__home", "item__shop", "failed__night", "failed__operation__station", "back_to",
        "because_of", "shop",
    )  # fmt: skip
    return get_object_or_404(rows, shop=request.shop, pk=pk, failed__night__date=on)


def _seen(row: Held) -> Check | None:
    """The good check after the mending that pieces go back on; none: check one first."""
    last = row.sorts.filter(rework__gt=0).order_by("-at").first()
    checks = Check.objects.filter(
        operation=row.failed.operation_id, kind=Check.Kind.REWORK, corrected_by=None
    ).order_by("-at", "-pk")
    found = checks.filter(at__gte=last.at).first() if last else None
    return found if found is not None and found.is_good else None


def _sorted(request: ShopRequest, row: Held, form: SortForm) -> bool:
    given = form.cleaned_data
    try:
        sort_held(
            held=row, counts=form.counts(), sorted_by=given["sorted_by"], by=request.user,
            at=timezone.now(), words=given["words"], from_rework=given["from_rework"],
            after=_seen(row), client_key=given["client_key"],
        )  # fmt: skip
    except (CheckRefused, PostingRefused) as refused:
        form.add_error(None, str(refused))
        return False
    messages.success(request, "Sorted, and the book follows.")
    return True


def _back(row: Held) -> HttpResponseRedirect:
    args = [row.shop.slug, row.failed.night.date, row.pk]
    return HttpResponseRedirect(reverse("quality:held", args=args))
