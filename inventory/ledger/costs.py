"""The moving average: every purchase shifts what one costs, no use does."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

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
