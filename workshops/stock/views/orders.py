"""What did we order, from whom, and what of it came?"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.db import transaction
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from inventory.deliveries import ordering
from inventory.deliveries.expected import expected, lines_of
from inventory.deliveries.models import Order
from inventory.deliveries.ordering import DraftStands, OrderRefused
from inventory.materials.queries import items_of
from inventory.needs.queries import latest_needs
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.stock.buying import by_supplier, ordered_since, suppliers_of, to_ask
from workshops.stock.forms.orders import ExpectForm, OrderForm, SendForm, SupplierForm, WhyForm
from workshops.stock.order_page import BOUGHT, begun, listed, on_page
from workshops.stock.times import moment_of, today_in


@require_http_methods(["GET", "POST"])
@guard(Permission.SEE_STOCK)
def orders(request: ShopRequest) -> HttpResponse:
    """Every order by how far it is."""
    page = {**listed(request.shop, today_in(request.shop)), "suppliers": suppliers_of(request.shop)}
    return render(request, "stock/orders.html", page | {"form": SupplierForm()})


@require_POST
@guard(Permission.POST_STOCK)
def start_order(request: ShopRequest) -> HttpResponse:
    """Begin an order to a supplier with what the buy list wants of it, and open it."""
    form = SupplierForm(request.POST)
    if not form.is_valid():
        messages.error(request, "Say who the order goes to.")
        return redirect("stock:orders", shop=request.shop.slug)
    supplier = form.cleaned_data["supplier"]
    try:
        order = ordering.draft(
            shop=request.shop, supplier=supplier, lines=_wanted_of(request, supplier),
            by=request.user, at=moment_of(None, request.shop), **begun(request.shop, supplier),
        )  # fmt: skip
    except DraftStands as standing:
        messages.info(request, str(standing))
        order = standing.order
    return _back(request, order)


@require_GET
@guard(Permission.SEE_STOCK)
def order(request: ShopRequest, pk: int) -> HttpResponse:
    """One order: being written, on its way, or done."""
    return _page(request, _order(request, pk))


@require_POST
@guard(Permission.POST_STOCK)
def write_order(request: ShopRequest, pk: int) -> HttpResponse:
    """Change the lines of a draft and what is said around them."""
    row = _order(request, pk)
    form = _form(request, row)
    if not form.is_valid():
        return _page(request, row, form=form)
    return _done(request, row, lambda: _write(row, form, request), "Written down.")


@require_POST
@guard(Permission.POST_STOCK)
def send_order(request: ShopRequest, pk: int) -> HttpResponse:
    """It went out: from now on its lines stand still."""
    row, form = _order(request, pk), SendForm(request.POST)
    if not form.is_valid():
        return _page(request, row, send=form)
    given = {"on": form.cleaned_data["on"], "expected_on": form.cleaned_data["expected_on"]}
    act = lambda: ordering.send(order=row, by=request.user, **given)  # noqa: E731
    return _done(request, row, act, f"{row} is sent. Print it if the supplier wants paper.")


@require_POST
@guard(Permission.POST_STOCK)
def expect_order(request: ShopRequest, pk: int) -> HttpResponse:
    """The supplier gave another day."""
    row, form = _order(request, pk), ExpectForm(request.POST)
    if not form.is_valid():
        return _page(request, row, expect=form)
    day = form.cleaned_data["expected_on"]
    act = lambda: ordering.expect(order=row, on=day, by=request.user)  # noqa: E731
    return _done(request, row, act, "The day is written down.")


@require_POST
@guard(Permission.POST_STOCK)
def end_order(request: ShopRequest, pk: int) -> HttpResponse:
    """Close it, or call it off, with the reason."""
    row, form = _order(request, pk), WhyForm(request.POST)
    if not form.is_valid():
        return _page(request, row, end=form)
    end = ordering.cancel if "cancel" in request.POST else ordering.close
    given = {"at": moment_of(None, request.shop), "why": form.cleaned_data["why"]}
    act = lambda: end(order=row, by=request.user, **given)  # noqa: E731
    return _done(request, row, act, "Called off." if "cancel" in request.POST else "Closed.")


@require_GET
@guard(Permission.SEE_STOCK)
def coming(request: ShopRequest) -> HttpResponse:
    """What is to come, day by day, what is late first."""
    today = today_in(request.shop)
    rows = expected(request.shop)
    page = {
        "late": [row for row in rows if row.is_late(today)],
        "rows": [row for row in rows if not row.is_late(today)],
        "today": today,
    }
    return render(request, "stock/coming.html", page)


def _wanted_of(request: ShopRequest, supplier: str) -> list[ordering.Asked]:
    needs = latest_needs(request.shop)
    if needs is None:
        return []
    since = ordered_since(needs, expected(request.shop))
    lists = (each for each in by_supplier(needs) if each.supplier == supplier)
    return [asked for each in lists for asked in to_ask(each.lines, since)]


@transaction.atomic
def _write(row: Order, form: OrderForm, request: ShopRequest) -> None:
    given = form.cleaned_data
    ordering.describe(
        order=row, wanted_on=given["wanted_on"], deliver_to=given["deliver_to"],
        note=given["note"], by=request.user,
    )  # fmt: skip
    for line in form.taken_off():
        ordering.take_off_line(order=row, line=line, by=request.user)
    for asked in form.asked():
        ordering.put_line(order=row, asked=asked, by=request.user)


def _done(
    request: ShopRequest, row: Order, act: Callable[[], object], says: str
) -> HttpResponse:  # fmt: skip
    try:
        act()
    except OrderRefused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, says)
    return _back(request, row)


def _back(request: ShopRequest, row: Order) -> HttpResponse:
    return redirect("stock:order", shop=request.shop.slug, pk=row.pk)


def _order(request: ShopRequest, pk: int) -> Order:
    rows = Order.objects.select_related("shop", "made_by", "sent_by", "ended_by")
    return get_object_or_404(rows, pk=pk, shop=request.shop)


def _form(request: ShopRequest, row: Order) -> OrderForm:
    initial = {"wanted_on": row.wanted_on, "deliver_to": row.deliver_to, "note": row.note}
    lines = row.lines.select_related("item", "item__shop")
    items = items_of(request.shop).filter(kind__in=BOUGHT)
    return OrderForm(request.POST or None, initial=initial, items=items, lines=lines)


def _page(request: ShopRequest, row: Order, **forms: Any) -> HttpResponse:
    lines, today = lines_of(row), today_in(request.shop)
    page = on_page(row, lines, today) | {"order": row, "today": today}
    if row.state == Order.State.DRAFT:
        page["form"] = _form(request, row) if "form" not in forms else None
    return render(request, "stock/order.html", page | forms, status=422 if forms else 200)
