"""What came in, and from whom?"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.html import format_html_join
from django.utils.safestring import SafeString
from django.views.decorators.http import require_GET, require_http_methods

from inventory.deliveries import actions
from inventory.deliveries.expected import lines_of
from inventory.deliveries.models import Delivery, Order
from inventory.deliveries.queries import came_with, deliveries_of, orders_on_their_way
from inventory.ledger.queries import sources_of
from inventory.ledger.refusals import plain, spelled
from inventory.materials.models import Item
from inventory.materials.queries import items_of
from inventory.places.queries import places_of
from workshops.access.guards import Permission, ShopRequest, guard
from workshops.club.queries import rules_of
from workshops.stock.finding import Finder, NotFound
from workshops.stock.forms.arrival import ArrivalForm, Door
from workshops.stock.forms.goods_in import MOST, DeliveryForm, count_in, rows_of, typed_in
from workshops.stock.times import moment_of

LATEST = 5


@require_http_methods(["GET", "POST"])
@guard(Permission.POST_STOCK)
def goods_in(request: ShopRequest) -> HttpResponse:
    """One form for all that came with one truck; more rows for it without losing a letter."""
    sent = request.POST if request.method == "POST" else None
    order = _order(request, sent)
    door = _door(request, order)
    rules = rules_of(request.shop)
    if sent is None or "more" in sent:
        head = DeliveryForm(initial=_begun(sent, order), shop=request.shop, rules=rules)
        item = _item(door, request.GET.get("item", ""))
        return _page(request, head, rows_of(door, typed=sent, order=order, item=item), order, door)
    head = DeliveryForm(sent, shop=request.shop, rules=rules)
    rows = rows_of(door, sent=sent)
    made = _booked(request, head, rows, order)
    if made is None:
        return _page(request, head, rows, order, door, status=422)
    _tell(request, made, order)
    return redirect("stock:delivery", shop=request.shop.slug, pk=made.pk)


@require_GET
@guard(Permission.POST_STOCK)
def row(request: ShopRequest) -> HttpResponse:
    """A piece of the form: one more row, what a row asks of its item, or what is said of it."""
    door = _door(request, None)
    part, number = request.GET.get("part", ""), count_in(request.GET)
    prefix = f"r{number}"
    if part == "judged":
        judged = ArrivalForm(request.GET, prefix=prefix, door=door)
        judged.is_valid()
        return render(request, "stock/_arrival_judged.html", {"row": judged, "live": True})
    if part == "asks":
        typed = typed_in(request.GET, prefix, ArrivalForm)
        # The length of what was chosen before is no guess at the length of this.
        kept = {name: text for name, text in typed.items() if name != "length"}
        page = {"row": ArrivalForm(initial=kept, prefix=prefix, door=door)}
        return render(request, "stock/_arrival_asks.html", page)
    if number >= MOST:
        return HttpResponse(status=204)
    more: dict[str, Any] = {"row": ArrivalForm(prefix=prefix, door=door), "rows": number + 1}
    return render(request, "stock/_arrival_more.html", more)


def _order(request: ShopRequest, sent: Mapping[str, Any] | None) -> Order | None:
    """The order that the delivery is for; none when it is not on its way in this shop."""
    raw = str((request.GET if sent is None else sent).get("order", ""))
    if not raw.isdecimal() or len(raw) > 9:
        return None
    return orders_on_their_way(request.shop).filter(pk=int(raw)).first()


def _door(request: ShopRequest, order: Order | None) -> Door:
    shop = request.shop
    coming = {each.line.pk: each for each in lines_of(order)} if order else {}
    places = {place.pk: place for place in places_of(shop)}
    # Two thousand items share one shop and a few places: joined, each would bring its own.
    items = list(items_of(shop).select_related(None))
    for item in items:
        item.shop, item.home = shop, places.get(item.home_id or 0)
    return Door(shop, Finder(items), list(places.values()), coming)


def _begun(sent: Mapping[str, Any] | None, order: Order | None) -> dict[str, Any]:
    """What the head of the form begins with: what was typed so far, or what the order says."""
    if sent is not None:
        return typed_in(sent, "", DeliveryForm)
    return {"source": order.supplier, "order": order.pk} if order else {}


def _item(door: Door, raw: str) -> Item | None:
    """The item whose page led here, by its number or its name."""
    if raw.isdecimal():
        return next((item for item in door.finder.items if item.pk == int(raw)), None)
    try:
        return door.finder.find(raw) if raw else None
    except NotFound:
        return None


def _page(
    request: ShopRequest, head: DeliveryForm, rows: list[ArrivalForm], order: Order | None,
    door: Door, *, status: int = 200,
) -> HttpResponse:  # fmt: skip
    wrong = [row for row in rows if row.is_bound and row.errors]
    page = {
        "head": head, "rows": rows, "order": order, "wrong": wrong, "names": _options(door.finder),
        "sources": sources_of(request.shop), "orders": orders_on_their_way(request.shop),
        "latest": [(each, came_with(each)) for each in deliveries_of(request.shop)[:LATEST]],
    }  # fmt: skip
    return render(request, "stock/goods_in.html", page, status=status)


def _options(finder: Finder) -> SafeString:
    """The names that a row offers; joined in one go, for a template takes its time over each."""
    return format_html_join("", "<option>{}</option>", ((name,) for name in finder.names.values()))


def _booked(
    request: ShopRequest, head: DeliveryForm, rows: list[ArrivalForm], order: Order | None
) -> Delivery | None:
    """The delivery in the book; ``None`` when a form or the book refused, and each says why."""
    if not all([head.is_valid(), *(row.is_valid() for row in rows)]):
        return None
    came = [row for row in rows if not row.is_blank]
    head.ask_for_basis(came)
    if head.errors:
        return None
    given = head.cleaned_data
    try:
        return actions.receive(
            shop=request.shop, source=given["source"], is_donated=head.is_given(),
            lines=[row.arrival() for row in came], order=order, by=request.user,
            at=moment_of(given["on"], request.shop), client_key=given["key"],
            paper=given["paper"], value_basis=given["value_basis"],
            letter_due_on=head.letter_due_on(), grant=given["grant"], note=given["note"],
        )  # fmt: skip
    except actions.DeliveryRefused as refused:
        about = head if refused.place is None else came[refused.place]
        about.add_error(None, str(refused))
        return None


def _of(item: Item) -> str:
    """Between the number and the name: the unit, a times sign for things counted one by one."""
    return "×" if item.is_by_length or item.unit == "each" else item.unit


def _tell(request: ShopRequest, made: Delivery, order: Order | None) -> None:
    came = ", ".join(
        f"{plain(line.quantity)} {_of(line.item)} {spelled(line.item, line.length_um)}"
        for line in (row.entry.lines.get(place__isnull=False) for row in made.received.all())
    )
    messages.success(request, f"Booked in from {made.source}: {came}.")
    over = [row for row in lines_of(order) if row.too_many] if order else []
    for row in over:
        words = f"{plain(row.too_many)} more {row.item} came than order {row.order.number} asked."
        messages.warning(request, f"{words} They are in the book: keep them, or send them back.")
