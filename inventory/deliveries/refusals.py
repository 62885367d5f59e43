"""Why a delivery is not booked in, each refusal a sentence a person can act on."""

from __future__ import annotations


class DeliveryRefused(ValueError):
    """A delivery of which nothing is written.

    ``place`` is the line that is wrong, counted from 0; ``None`` when it is all of it.
    """

    def __init__(self, says: str, *, place: int | None = None) -> None:
        self.place = place
        super().__init__(says)


class NothingCame(DeliveryRefused):
    """A delivery without a line."""


class OrderNotSent(DeliveryRefused):
    """Goods for an order that nobody sent, or that has come to its end."""


class NotOnThatOrder(DeliveryRefused):
    """A line of another order, or of another thing than what came."""


class LineRefused(DeliveryRefused):
    """A line that the book does not take, with the book's own words."""


class NotTakenBack(DeliveryRefused):
    """Something received that the book does not give back: it was used or moved since."""
