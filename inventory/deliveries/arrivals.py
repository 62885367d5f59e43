"""What arrives at the door, line by line, before any of it is written."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from inventory.deliveries.models import OrderLine, Received
from inventory.materials.models import Item
from inventory.places.models import Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """What was measured or seen; lengths in micrometres, ``None`` for what was not."""

    outside_um: int | None = None
    wall_um: int | None = None
    wire_um: int | None = None
    moisture_percent: Decimal | None = None
    finish: str = Received.Finish.UNKNOWN


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrival:
    """So many of an item. ``place`` is its home when not said, ``value`` of all of them.

    ``order_line`` is found by item and length when the delivery is for an order.
    ``hold_because`` sets it aside at once, with that reason.
    """

    item: Item
    quantity: Decimal
    length_um: int = 0
    place: Place | None = None
    value: Decimal | None = None
    order_line: OrderLine | None = None
    measured: Measured = Measured()
    judged: Sequence[Mapping[str, object]] = ()
    hold_because: str = ""
