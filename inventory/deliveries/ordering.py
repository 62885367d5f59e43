"""Writing an order, sending it, and being done with it.

A draft may be changed by anybody who may write orders. What was sent is what the supplier has
in hand: from then on its lines stand still, and only the day it is expected may change.
Every action takes ``by`` and locks the shop's book, so two people never number, send or end
an order at once. Each may raise ``OrderRefused``, of which the named errors are kinds.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from django.db import transaction
from django.db.models import Max

from inventory.deliveries.expected import lines_of
from inventory.deliveries.models import Order, OrderLine
from inventory.ledger.actions import lock_book
from inventory.ledger.drafts import Who
from inventory.materials.models import Item
from inventory.places.models import Shop

State = Order.State


class OrderRefused(ValueError):
    """An order that cannot be written, sent or ended so; the sentence says what to do."""


class DraftStands(OrderRefused):
    """There is a draft to this supplier already. ``order`` is that draft."""

    def __init__(self, order: Order) -> None:
        self.order = order
        super().__init__(f"{order} is being written already. Add to it, or send it first.")


class NotADraft(OrderRefused):
    """A change to the lines of an order that was sent or ended."""

    def __init__(self, order: Order) -> None:
        super().__init__(
            f"{order} is {order.get_state_display()}: its lines stand as the supplier has them. "
            "Write another order for what is missing."
        )


class NotSent(OrderRefused):
    """An order that is not on its way, so nothing can be expected of it."""

    def __init__(self, order: Order) -> None:
        super().__init__(f"{order} is {order.get_state_display()}, not on its way.")


class NothingOrdered(OrderRefused):
    """An order without a line, or a line of nothing."""


class SayWhy(OrderRefused):
    """An order ended without the reason that somebody will ask for next year."""


class PartCame(OrderRefused):
    """A cancelled order of which something came: what came was bought."""


@dataclass(frozen=True, slots=True)
class Asked:
    """So many of an item; for metal, pieces of a length (as it is bought when 0)."""

    item: Item
    quantity: Decimal
    length_um: int = 0
    unit_price: Decimal | None = None


@transaction.atomic
def draft(
    *,
    shop: Shop,
    supplier: str,
    by: Who,
    at: datetime,
    lines: Sequence[Asked] = (),
    wanted_on: date | None = None,
    deliver_to: str = "",
    note: str = "",
) -> Order:
    """Begin an order to a supplier, numbered on from the shop's last.

    Raises
    ------
    DraftStands
        When an order to this supplier is being written already.
    OrderRefused
        Without a supplier, or for a line that cannot be ordered.
    """
    supplier = supplier.strip()
    if not supplier:
        raise OrderRefused("Say who the order goes to.")
    lock_book(shop)
    orders = Order.objects.filter(shop=shop)
    standing = orders.filter(supplier=supplier, state=State.DRAFT).first()
    if standing is not None:
        raise DraftStands(standing)
    last: int | None = orders.aggregate(last=Max("number"))["last"]
    order = Order.objects.create(
        shop=shop, number=(last or 0) + 1, supplier=supplier, wanted_on=wanted_on,
        deliver_to=deliver_to.strip(), note=note.strip(), made_by_id=_pk(by), made_at=at,
    )  # fmt: skip
    for asked in lines:
        _write_line(order, asked)
    return order


@transaction.atomic
def put_line(*, order: Order, asked: Asked, by: Who) -> OrderLine:  # noqa: ARG001
    """Add a line to a draft; the same item and length again changes the line there is.

    Raises
    ------
    NotADraft
        When it was sent or ended.
    NothingOrdered
        When the quantity is not more than nothing.
    OrderRefused
        For an item of another shop, or a part of a stick.
    """
    return _write_line(_drafted(order), asked)


@transaction.atomic
def take_off_line(*, order: Order, line: int, by: Who) -> None:  # noqa: ARG001
    """Take a line off a draft; one that is gone already is no trouble.

    Raises
    ------
    NotADraft
        When it was sent or ended.
    """
    _drafted(order).lines.filter(pk=line).delete()


@transaction.atomic
def describe(
    *, order: Order, wanted_on: date | None, deliver_to: str, note: str, by: Who  # noqa: ARG001
) -> Order:  # fmt: skip
    """Say by when a draft's goods are wanted, where they go, and a word to the supplier.

    Raises
    ------
    NotADraft
        When it was sent or ended.
    """
    row = _drafted(order)
    row.wanted_on, row.deliver_to, row.note = wanted_on, deliver_to.strip(), note.strip()
    row.save(update_fields=["wanted_on", "deliver_to", "note"])
    return row


@transaction.atomic
def send(*, order: Order, on: date, by: Who, expected_on: date | None = None) -> Order:
    """Write down that an order went out; its lines stand still from now on.

    Raises
    ------
    NotADraft
        When it was sent before, or ended.
    NothingOrdered
        When it has no line.
    OrderRefused
        When it would be expected before it was sent.
    """
    row = _drafted(order)
    if not row.lines.exists():
        raise NothingOrdered(f"{row} has no line yet. Add what is wanted, then send it.")
    _refuse_day(on, expected_on)
    row.state, row.sent_on, row.sent_by_id = State.SENT, on, _pk(by)
    row.expected_on = expected_on
    row.save(update_fields=["state", "sent_on", "sent_by", "expected_on"])
    return row


@transaction.atomic
def expect(*, order: Order, on: date | None, by: Who) -> Order:  # noqa: ARG001
    """Write down the day the supplier gives now for what is still to come.

    Raises
    ------
    NotSent
        When the order is not on its way.
    OrderRefused
        When the day is before it was sent.
    """
    row = _locked(order)
    if row.state != State.SENT or row.sent_on is None:
        raise NotSent(row)
    _refuse_day(row.sent_on, on)
    row.expected_on = on
    row.save(update_fields=["expected_on"])
    return row


@transaction.atomic
def close(*, order: Order, by: Who, at: datetime, why: str = "") -> Order:
    """Be done with an order: nothing more is expected of it.

    Raises
    ------
    NotSent
        When it is not on its way.
    SayWhy
        When not all of it came and no reason is given.
    """
    row = _locked(order)
    if row.state != State.SENT:
        raise NotSent(row)
    if not why.strip() and any(line.left for line in lines_of(row)):
        raise SayWhy(f"Not all of {row} came. Say why nothing more is expected.")
    return _ended(row, State.CLOSED, by=by, at=at, why=why)


@transaction.atomic
def cancel(*, order: Order, by: Who, at: datetime, why: str) -> Order:
    """Call an order off, a draft or a sent one.

    Raises
    ------
    SayWhy
        Without a reason.
    PartCame
        When some of it was received: that order is closed instead.
    OrderRefused
        When it was ended before.
    """
    row = _locked(order)
    if row.state in (State.CLOSED, State.CANCELLED):
        raise OrderRefused(f"{row} is {row.get_state_display()} already.")
    if not why.strip():
        raise SayWhy(f"Say why {row} is called off.")
    if any(line.received for line in lines_of(row)):
        raise PartCame(f"Part of {row} came. Close it instead, and say why the rest does not.")
    return _ended(row, State.CANCELLED, by=by, at=at, why=why)


def _ended(row: Order, state: str, *, by: Who, at: datetime, why: str) -> Order:
    row.state, row.ended_by_id, row.ended_at, row.ended_why = state, _pk(by), at, why.strip()
    row.save(update_fields=["state", "ended_by", "ended_at", "ended_why"])
    return row


def _write_line(order: Order, asked: Asked) -> OrderLine:
    item = asked.item
    if item.shop_id != order.shop_id:
        raise OrderRefused(f"{item} is no item of this shop.")
    if asked.quantity <= 0:
        raise NothingOrdered(f"{item}: say how many are wanted, more than nothing.")
    if item.is_by_length and asked.quantity % 1:
        raise OrderRefused(f"{item} is ordered in whole sticks or rolls.")
    length = (asked.length_um or item.bought_length_um or 0) if item.is_by_length else 0
    if item.is_by_length and not length:
        raise OrderRefused(f"{item}: say how long a stick or roll is.")
    line, _ = OrderLine.objects.update_or_create(
        order=order, item=item, length_um=length,
        defaults={"quantity": asked.quantity, "unit_price": asked.unit_price},
    )  # fmt: skip
    return line


def _drafted(order: Order) -> Order:
    row = _locked(order)
    if row.state != State.DRAFT:
        raise NotADraft(row)
    return row


def _locked(order: Order) -> Order:
    """The order as it stands now, read once nobody else can change it."""
    lock_book(order.shop)
    return Order.objects.select_related("shop").get(pk=order.pk)


def _refuse_day(sent: date, expected_on: date | None) -> None:
    if expected_on is not None and expected_on < sent:
        raise OrderRefused("It cannot be expected before the day it was sent.")


def _pk(by: Who) -> int | None:
    return by.pk if by else None
