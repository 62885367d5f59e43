"""What is left on a roll, once somebody has measured it: the difference goes into the book."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal
from uuid import UUID

from inventory.ledger.actions import NewLine, PostingRefused, post
from inventory.ledger.models import Balance, Entry, Line
from inventory.places.models import Shop
from workshops.access.models import User

SHELF, DIFFERENCE = Line.Account.SHELF, Line.Account.DIFFERENCE


def note_what_is_left(
    *,
    shop: Shop,
    spot: Balance,
    length_um: int,
    reason: str,
    by: User | None,
    at: datetime,
    client_key: UUID | None = None,
) -> Entry:
    """One roll of the spot is so long and not as long as the book says.

    Raises
    ------
    PostingRefused
        When it is as long as the book says, has no length, or nothing lies there any more.
    """
    if length_um <= 0:
        raise PostingRefused(f"{spot.item}: an empty core is scrap; throw it away instead.")
    if length_um == spot.length_um:
        raise PostingRefused(f"{spot.item}: it is as long as the book says.")
    one, where = Decimal(1), (spot.place, spot.condition)
    lines = [
        NewLine(spot.item, SHELF, -one, *where, spot.length_um),
        NewLine(spot.item, DIFFERENCE, one, None, spot.condition, spot.length_um),
        NewLine(spot.item, SHELF, one, *where, length_um),
        NewLine(spot.item, DIFFERENCE, -one, None, spot.condition, length_um),
    ]
    return post(
        shop=shop, kind=Entry.Kind.COUNTED, lines=lines, by=by, at=at, client_key=client_key,
        reason=reason.strip() or "measured on the roll",
    )  # fmt: skip
