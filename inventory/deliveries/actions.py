"""Booking in what arrives at the door, taking it back, and the letters that thank for it.

Every action is atomic, takes ``by`` (who) and ``at`` (when it happened, aware), and raises
``DeliveryRefused`` or one of its kinds.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime
from decimal import Decimal
from typing import Any
from uuid import UUID, uuid5

from django.contrib.auth.base_user import AbstractBaseUser
from django.db import transaction

from inventory.deliveries.arrivals import Arrival, Measured
from inventory.deliveries.models import Delivery, Order, OrderLine, Received
from inventory.deliveries.refusals import (
    DeliveryRefused,
    LineRefused,
    NothingCame,
    NotOnThatOrder,
    NotTakenBack,
    OrderNotSent,
)
from inventory.ledger import actions as ledger
from inventory.ledger.making import home_of
from inventory.ledger.models import Entry
from inventory.places.models import Shop

__all__ = [
    "Arrival", "DeliveryRefused", "LineRefused", "Measured", "NotOnThatOrder", "NotTakenBack",
    "NothingCame", "OrderNotSent", "receive", "say_coating_is_gone", "send_letter", "take_back",
]  # fmt: skip

Who = AbstractBaseUser | None
CENT = Decimal("0.01")


@transaction.atomic
def receive(
    *,
    shop: Shop,
    source: str,
    is_donated: bool,
    lines: Sequence[Arrival],
    by: Who,
    at: datetime,
    client_key: UUID,
    order: Order | None = None,
    paper: str = "",
    value_basis: str = "",
    letter_due_on: date | None = None,
    grant: str = "",
    note: str = "",
) -> Delivery:
    """Book in one arrival: an entry of the book for each line, all of them or none.

    The same key again gives back the delivery of the first time. More than was ordered is
    taken in as well; ``queries.outstanding_of`` says by how much it is over.

    Raises
    ------
    NothingCame
        When there is no line.
    OrderNotSent
        When the order is not sent, or has been closed or cancelled.
    NotOnThatOrder
        When a line names an order line that is not its own.
    LineRefused
        When the book refuses a line: ``place`` says which.
    """
    told = {
        "source": source.strip(), "is_donated": is_donated, "order": order, "arrived_at": at,
        "by_id": by.pk if by else None, "paper": paper, "value_basis": value_basis,
        "letter_due_on": letter_due_on, "grant": grant, "note": note,
    }  # fmt: skip
    # With the book locked, a phone that sends twice waits here for itself, and nobody closes
    # the order while part of it is carried in.
    ledger.lock_book(shop)
    if order is not None:
        order = Order.objects.get(pk=order.pk)
        told["order"] = order
    delivery, is_new = Delivery.objects.get_or_create(
        shop=shop, client_key=client_key, defaults=told
    )
    if not is_new:
        return delivery
    if not lines:
        raise NothingCame("Nothing is written down yet: say what came, and how many.")
    for place, arrival in enumerate(_on_order(lines, order)):
        _receive_line(delivery, place, arrival)
    return delivery


@transaction.atomic
def take_back(
    received: Received, *, reason: str, by: Who, at: datetime, client_key: UUID | None = None
) -> Entry:
    """Take back what was received of one item; what its order waits for grows again.

    Raises
    ------
    NotTakenBack
        When it was used since, taken back before, or no reason is given.
    """
    held = received.hold_entry
    try:
        # What was set aside is good again for a moment, so that its coming can be mirrored.
        if held is not None and _lies_on_hold(held):
            ledger.correct(held, reason=reason, by=by, at=at)
        return ledger.correct(
            received.entry, reason=reason, by=by, at=at, client_key=client_key
        )  # fmt: skip
    except ledger.PostingRefused as refused:
        raise NotTakenBack(str(refused)) from refused


@transaction.atomic
def send_letter(*, delivery: Delivery, on: date) -> Delivery:
    """Note that the donor was thanked.

    Raises
    ------
    DeliveryRefused
        When the letter would have gone before the gift came.
    """
    if on < delivery.arrived_at.astimezone(delivery.shop.zone).date():
        raise DeliveryRefused("The letter cannot have gone before the gift came.")
    delivery.letter_sent_on = on
    delivery.save(update_fields=["letter_sent_on"])
    return delivery


def say_coating_is_gone(*, received: Received, by: Who, at: datetime) -> Received:
    """Note that somebody looked and found none of a coated delivery left.

    Raises
    ------
    DeliveryRefused
        When it did not come galvanised or painted.
    """
    if received.finish not in Received.COATED:
        raise DeliveryRefused("It did not come galvanised or painted.")
    received.coating_gone_at, received.coating_gone_by_id = at, by.pk if by else None
    received.save(update_fields=["coating_gone_at", "coating_gone_by"])
    return received


def _on_order(lines: Sequence[Arrival], order: Order | None) -> list[Arrival]:
    """The lines, each with the line of the order that it fulfils where there is one."""
    if order is None:
        wrong = next((n for n, each in enumerate(lines) if each.order_line), None)
        if wrong is not None:
            raise NotOnThatOrder("Say which order this came for.", place=wrong)
        return list(lines)
    if order.state != Order.State.SENT:
        raise OrderNotSent(
            f"Order {order.number} is {order.get_state_display()}: mark it as sent first, or book"
            " this in without an order."
        )
    asked = {(each.item_id, each.length_um): each for each in order.lines.all()}
    return [_with_its_line(place, each, asked, order) for place, each in enumerate(lines)]


def _with_its_line(
    place: int, arrival: Arrival, asked: dict[tuple[int, int], OrderLine], order: Order
) -> Arrival:
    found = asked.get((arrival.item.pk, arrival.length_um))
    named = arrival.order_line
    if named is None:
        # Nothing of the kind was ordered: it comes in all the same, on no line.
        return replace(arrival, order_line=found)
    # Another length may fulfil the line it was ordered under: a person said so.
    if named.order_id != order.pk or named.item_id != arrival.item.pk:
        raise NotOnThatOrder(
            f"{arrival.item} is not that line of order {order.number}.", place=place
        )
    return arrival


def _receive_line(delivery: Delivery, place: int, arrival: Arrival) -> None:
    shelf = arrival.place or home_of(arrival.item)
    usual: dict[str, Any] = {
        "shop": delivery.shop, "item": arrival.item, "quantity": arrival.quantity, "place": shelf,
        "length_um": arrival.length_um, "by": delivery.by, "at": delivery.arrived_at,
    }  # fmt: skip
    value, basis = _worth(delivery, arrival)
    try:
        entry = ledger.goods_in(
            source=delivery.source, is_donated=delivery.is_donated, value=value,
            value_basis=basis, paper=delivery.paper,
            client_key=uuid5(delivery.client_key, f"line {place}"), **usual,
        )  # fmt: skip
        held = None
        if arrival.hold_because:
            key = uuid5(delivery.client_key, f"hold {place}")
            held = ledger.hold(reason=arrival.hold_because[:200], client_key=key, **usual)
    except ledger.PostingRefused as refused:
        raise LineRefused(str(refused), place=place) from refused
    measured = arrival.measured
    Received.objects.create(
        delivery=delivery, entry=entry, hold_entry=held, order_line=arrival.order_line,
        finish=measured.finish, outside_um=measured.outside_um, wall_um=measured.wall_um,
        wire_um=measured.wire_um, moisture_percent=measured.moisture_percent,
        judged=[dict(each) for each in arrival.judged],
    )  # fmt: skip


def _worth(delivery: Delivery, arrival: Arrival) -> tuple[Decimal | None, str]:
    """What the line cost or is worth, and how that is known."""
    line = arrival.order_line
    if arrival.value is None and line is not None and line.unit_price is not None:
        # The bill comes later; until then it costs what was agreed.
        value = (line.unit_price * arrival.quantity).quantize(CENT)
        return value, delivery.value_basis or f"price on order {line.order.number}"
    return arrival.value, delivery.value_basis


def _lies_on_hold(held: Entry) -> bool:
    """Whether what was set aside is still so, all of it, where it was put."""
    if Entry.objects.filter(corrects=held).exists():
        return False
    line = held.lines.get(quantity__gt=0)
    lying = line.item.balances.filter(
        place=line.place, condition=line.condition, length_um=line.length_um
    ).first()
    return lying is not None and lying.quantity >= line.quantity
