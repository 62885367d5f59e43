"""What came with which truck, what was said of it, and who is still to be thanked?"""

from __future__ import annotations

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from inventory.deliveries import actions, queries
from inventory.deliveries.expected import lines_of
from inventory.deliveries.models import Delivery, Received
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.stock.forms.take_back import TakeBackForm
from workshops.stock.measuring import measured_words
from workshops.stock.times import today_in

LEAF = 30
SENT_SHOWN = 10


@require_GET
@guard(Permission.SEE_STOCK)
def deliveries(request: ShopRequest) -> HttpResponse:
    """All deliveries, the latest first, a leaf at a time."""
    leaf = Paginator(queries.deliveries_of(request.shop), LEAF).get_page(request.GET.get("page"))
    page = {
        "leaf": leaf,
        "rows": [(each, queries.came_with(each)) for each in leaf.object_list],
        "overdue": queries.letters_overdue(request.shop, today_in(request.shop)),
    }
    return render(request, "stock/deliveries.html", page)


@require_GET
@guard(Permission.SEE_STOCK)
def delivery(request: ShopRequest, pk: int) -> HttpResponse:
    """One delivery: what came, what was measured and judged, and what its order waits for."""
    return _shown(request, _delivery(request, pk), {})


@require_POST
@guard(Permission.POST_STOCK)
def take_back(request: ShopRequest, pk: int, received: int) -> HttpResponse:
    """Take one line of a delivery back, with the reason."""
    shown, form = _delivery(request, pk), TakeBackForm(request.POST)
    row = _received(shown, received)
    form.auto_id = f"back{row.pk}_%s"
    if form.is_valid():
        given = form.cleaned_data
        try:
            actions.take_back(
                row, reason=given["reason"], by=request.user, at=timezone.now(),
                client_key=given["key"],
            )  # fmt: skip
        except actions.DeliveryRefused as refused:
            form.add_error(None, str(refused))
        else:
            messages.success(request, "Taken back: its mirror image is in the book.")
            return redirect("stock:delivery", shop=request.shop.slug, pk=pk)
    # Read anew: the refused correction still hangs on the rows that were read before it.
    return _shown(request, _delivery(request, pk), {row.pk: form})


@require_POST
@guard(Permission.POST_STOCK)
def coating_gone(request: ShopRequest, pk: int, received: int) -> HttpResponse:
    """Somebody looked: none of what came galvanised or painted is left."""
    row = _received(_delivery(request, pk), received)
    try:
        actions.say_coating_is_gone(received=row, by=request.user, at=timezone.now())
        messages.success(request, "Noted: the weld card does not warn of these any more.")
    except actions.DeliveryRefused as refused:
        messages.error(request, str(refused))
    return redirect("stock:delivery", shop=request.shop.slug, pk=pk)


@require_GET
@guard(Permission.SEE_STOCK)
def letters(request: ShopRequest) -> HttpResponse:
    """Thank-you letters that are due, the most pressing first, and the last that went."""
    sent = queries.letters_sent(request.shop)[:SENT_SHOWN]
    page = {
        "due": [(each, queries.came_with(each)) for each in queries.letters_due(request.shop)],
        "sent": [(each, queries.came_with(each)) for each in sent],
        "today": today_in(request.shop),
    }
    return render(request, "stock/letters.html", page)


@require_POST
@guard(Permission.POST_STOCK)
def letter_sent(request: ShopRequest, pk: int) -> HttpResponse:
    """The letter for a gift went today."""
    shown = _delivery(request, pk)
    try:
        actions.send_letter(delivery=shown, on=today_in(request.shop))
        messages.success(request, f"{shown.source} is thanked.")
    except actions.DeliveryRefused as refused:
        messages.error(request, str(refused))
    return redirect("stock:letters", shop=request.shop.slug)


def _delivery(request: ShopRequest, pk: int) -> Delivery:
    found = queries.delivery_of(request.shop, pk)
    if found is None:
        raise Http404("There is no such delivery in this shop.")
    return found


def _received(shown: Delivery, pk: int) -> Received:
    found = next((row for row in shown.received.all() if row.pk == pk), None)
    if found is None:
        raise Http404("There is no such line in this delivery.")
    return found


def _shown(
    request: ShopRequest, shown: Delivery, refused: dict[int, TakeBackForm]
) -> HttpResponse:  # fmt: skip
    # A form for each line, each with a key of its own: two lines may both be taken back.
    came = [
        (
            each,
            measured_words(each.row, request.shop.length_units),
            refused.get(each.row.pk) or TakeBackForm(auto_id=f"back{each.row.pk}_%s"),
        )
        for each in queries.came_with(shown)
    ]
    page = {"delivery": shown, "came": came, "today": today_in(request.shop)}
    page["lines"] = lines_of(shown.order) if shown.order else ()
    return render(request, "stock/delivery.html", page, status=422 if refused else 200)
