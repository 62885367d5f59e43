"""What one of an item costs by the moving average: every purchase shifts it, no use does.

Donated things are counted apart: they have a value, but no bill.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from inventory.ledger.models import Entry, Line
from inventory.materials.models import Item

CENT = Decimal("0.01")


@dataclass(frozen=True, slots=True)
class Cost:
    """So many at an average cost; money is rounded when it is shown, never in between.

    Source: moving-average method of stock valuation, as cost accounting textbooks teach it.
    """

    quantity: Decimal = Decimal()
    value: Decimal = Decimal()

    @property
    def average(self) -> Decimal | None:
        """The cost of one; ``None`` when there is none."""
        return self.value / self.quantity if self.quantity else None

    def bought(self, quantity: Decimal, value: Decimal) -> Cost:
        """After buying so many for so much in all."""
        return Cost(self.quantity + quantity, self.value + value)

    def taken(self, quantity: Decimal) -> Cost:
        """After taking so many at the average; more than there are leave nothing."""
        average = self.average
        # Exactly nothing, so that no cent of an old average is left to colour the next purchase.
        if average is None or quantity >= self.quantity:
            return Cost()
        return Cost(self.quantity - quantity, self.value - average * quantity)

    @property
    def rounded(self) -> Decimal:
        """The value to the cent."""
        return self.value.quantize(CENT, ROUND_HALF_UP)


@dataclass(frozen=True, slots=True)
class Costs:
    """Bought things and given ones, each with an average of their own."""

    bought: Cost
    given: Cost


def costs_of(item: Item) -> Costs:
    """The item's costs from its whole book, a piece of any length counting one. 1 query.

    What is used is taken from bought and given things in the share in which they are there.
    Goods without a value are left out; so are places and conditions, which cost nothing.
    """
    bought, given = Cost(), Cost()
    for quantity, value, is_donated in _flow(item):
        if quantity < 0:
            bought, given = _used(bought, given, -quantity)
        elif value is not None and is_donated:
            given = given.bought(quantity, value)
        elif value is not None:
            bought = bought.bought(quantity, value)
    return Costs(bought, given)


def _used(bought: Cost, given: Cost, quantity: Decimal) -> tuple[Cost, Cost]:
    whole = bought.quantity + given.quantity
    if not whole:
        return bought, given
    # Nobody marks which box was the gift, so both are used alike.
    share = min(quantity, whole) / whole
    return bought.taken(bought.quantity * share), given.taken(given.quantity * share)


def _flow(item: Item) -> Iterable[tuple[Decimal, Decimal | None, bool]]:
    """Goods in with their value, and what went to use, scrap or the marsh, in order of time."""
    lines = Line.objects.filter(item=item).exclude(account=Line.Account.SHELF)
    # An entry that was taken back never happened; nor did its mirror image.
    lines = lines.filter(entry__correction__isnull=True, entry__corrects__isnull=True)
    rows = lines.order_by("entry__at", "pk").values_list(
        "account", "quantity", "entry__kind", "entry__goods_in__value",
        "entry__goods_in__is_donated",
    )  # fmt: skip
    for account, quantity, kind, value, is_donated in rows:
        if kind == Entry.Kind.GOODS_IN:
            # The line is the outside account's, which gave what the shelf received.
            yield -quantity, value, bool(is_donated)
        elif account in (Line.Account.USED, Line.Account.SCRAP, Line.Account.OUTSIDE):
            yield -quantity, None, False
