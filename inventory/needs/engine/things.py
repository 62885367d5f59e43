"""What the needs engine counts: items, the sticks of a metal, and what is on order."""

from __future__ import annotations

import datetime
from dataclasses import dataclass, replace

# An order without a day is counted on only where the day does not matter.
EVER = "9999-12-31"


@dataclass(frozen=True, slots=True)
class Lot:
    """Sticks of one length that lie in the rack, drops among them."""

    length: int
    count: int
    is_drop: bool = False

    def __post_init__(self) -> None:
        if self.length <= 0:
            raise ValueError(f"length must be more than 0, not {self.length}")
        not_negative(self.count, "count")


@dataclass(frozen=True, slots=True)
class OnOrder:
    """What was ordered and has not come: so many, there for the night of ``date``.

    ``date`` is empty when nobody knows the day, or the day has passed. ``length`` is that of a
    stick, for a material cut from sticks.
    """

    quantity: int
    date: str | None = None
    length: int | None = None

    def __post_init__(self) -> None:
        not_negative(self.quantity, "quantity on order")
        if self.date is not None:
            a_day(self.date, "date of an order")
        if self.length is not None and self.length <= 0:
            raise ValueError(f"length on order must be more than 0, not {self.length}")

    def is_there(self, until: str) -> bool:
        """Whether it counts on that ISO date; ``EVER`` for whenever it comes."""
        return (self.date or EVER) <= until


@dataclass(frozen=True, slots=True)
class Item:
    """Something countable.

    Parameters
    ----------
    key
        Its name in this problem; no two alike.
    on_hand, on_rack
        How many there are in the store, and half-made at the stations. What is on hold is
        left out by whoever fills this in. Both 0 for a material cut from sticks.
    sticks
        For a material cut from sticks: what lies in the rack.
    stick_length, kerf, trim
        For a material cut from sticks: the length bought, what the blade takes, what an end
        loses; micrometres. ``stick_length`` marks the item as such a material.
    pack
        It is bought in packs of so many (sticks in a bundle), 1 or more.
    lead_days
        Days from order to the shelf.
    keep_at_least
        Never plan below this many.
    last_order
        The last day on which it can be had at all (straw after harvest), ISO date.
    supplier
        Who sells or gives it; handed through to the buy list.
    orders
        What is on its way. Never counted as being here: it is set against what must be
        bought, and from its day on against what runs out.
    """

    key: str
    on_hand: int = 0
    on_rack: int = 0
    sticks: tuple[Lot, ...] = ()
    stick_length: int | None = None
    kerf: int = 0
    trim: int = 0
    pack: int = 1
    lead_days: int = 0
    keep_at_least: int = 0
    last_order: str | None = None
    supplier: str = ""
    orders: tuple[OnOrder, ...] = ()

    def __post_init__(self) -> None:
        if not self.key.strip():
            raise ValueError("key must not be empty")
        for name in ("on_hand", "on_rack", "kerf", "trim", "lead_days", "keep_at_least"):
            not_negative(getattr(self, name), f"{name} of {self.key}")
        if self.pack < 1:
            raise ValueError(f"pack of {self.key} must be 1 or more, not {self.pack}")
        if 0 < self.trim < self.kerf:
            raise ValueError(f"trim of {self.key} must be 0 or at least the kerf")
        if self.last_order is not None:
            a_day(self.last_order, f"last_order of {self.key}")
        self._refuse_half_a_stick()
        if any((order.length is not None) != self.is_cut_from_sticks for order in self.orders):
            raise ValueError(f"orders of {self.key}: a length is given for sticks and nothing else")

    def _refuse_half_a_stick(self) -> None:
        if self.stick_length is None:
            if self.sticks:
                raise ValueError(f"{self.key} has sticks but no stick_length")
        elif self.stick_length <= 0:
            raise ValueError(f"stick_length of {self.key} must be more than 0")
        # a number of sticks says nothing without their lengths
        elif self.on_hand or self.on_rack or self.keep_at_least:
            raise ValueError(f"{self.key} is cut from sticks: count it in sticks alone")

    @property
    def is_cut_from_sticks(self) -> bool:
        """Whether recipes take pieces of a length from it."""
        return self.stick_length is not None

    def gives(self, length: int) -> bool:
        """Whether a bought stick gives such a piece: cut from it, or just as it comes."""
        bought = self.stick_length or 0
        return length <= max(0, bought - 2 * self.trim) or length == bought

    @property
    def there(self) -> int:
        """What can be used: in the store and on the rack, less what is always kept."""
        return self.there_on("")

    def there_on(self, until: str) -> int:
        """What can be used on that ISO date if all that is on order comes on its day."""
        coming = sum(order.quantity for order in self.orders if order.is_there(until))
        return max(0, self.on_hand + self.on_rack + coming - self.keep_at_least)

    def on(self, until: str) -> Item:
        """The item as it stands on that ISO date, what has come by then no longer on order."""
        came = [order for order in self.orders if order.is_there(until)]
        lots = tuple(Lot(order.length, order.quantity) for order in came if order.length)
        others = sum(order.quantity for order in came if not order.length)
        return replace(self, on_hand=self.on_hand + others, sticks=(*self.sticks, *lots), orders=())


def not_negative(value: int, what: str) -> None:
    """Refuse a number below 0."""
    if value < 0:
        raise ValueError(f"{what} must not be less than 0, not {value}")


def a_day(text: str, what: str) -> None:
    """Refuse what is no ISO date."""
    try:
        datetime.date.fromisoformat(text)
    except ValueError:
        raise ValueError(f"{what} must be a date such as 2031-02-28, not {text}") from None
