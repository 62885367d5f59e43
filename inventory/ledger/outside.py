"""Things that leave the shop and come back: to the supplier, to the marsh; parts of ``actions``."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal
from uuid import UUID

from inventory.ledger.book import record
from inventory.ledger.drafts import SHELF, Heading, NewLine, Who, refuse_nothing
from inventory.ledger.models import Condition, Entry, Line
from inventory.materials.models import Item
from inventory.places.models import Place, Shop

OUTSIDE = Line.Account.OUTSIDE


def return_goods(
    *,
    shop: Shop,
    item: Item,
    quantity: Decimal,
    place: Place,
    reason: str,
    by: Who,
    at: datetime,
    length_um: int = 0,
    condition: str = Condition.GOOD,
    paper: str = "",
    night_key: str = "",
    client_key: UUID | None = None,
) -> Entry:
    """Send something back to whom it came from; a reason is asked for.

    Raises
    ------
    NotEnough
        When fewer lie there in that condition.
    """
    refuse_nothing(item, quantity, reason)
    heading = Heading(
        shop=shop, kind=Entry.Kind.RETURNED, by=by, at=at, reason=reason, paper=paper,
        night_key=night_key, client_key=client_key,
    )  # fmt: skip
    lines = _across(item, -quantity, place, condition=condition, length_um=length_um)
    return record(heading, lambda: lines)


def set_out(
    *,
    shop: Shop,
    item: Item,
    quantity: Decimal,
    place: Place,
    by: Who,
    at: datetime,
    length_um: int = 0,
    reason: str = "",
    paper: str = "",
    night_key: str = "",
    client_key: UUID | None = None,
) -> Entry:
    """Take good things out to the marsh.

    Raises
    ------
    NotEnough
        When fewer good ones lie there.
    """
    refuse_nothing(item, quantity)
    heading = Heading(
        shop=shop, kind=Entry.Kind.SET_OUT, by=by, at=at, reason=reason, paper=paper,
        night_key=night_key, client_key=client_key,
    )  # fmt: skip
    lines = _across(item, -quantity, place, condition=Condition.GOOD, length_um=length_um)
    return record(heading, lambda: lines)


def bring_back(
    *,
    shop: Shop,
    item: Item,
    quantity: Decimal,
    place: Place,
    reason: str,
    by: Who,
    at: datetime,
    length_um: int = 0,
    condition: str = Condition.GOOD,
    paper: str = "",
    night_key: str = "",
    client_key: UUID | None = None,
) -> Entry:
    """Put what came back from the marsh on a shelf, good or on hold; a reason is asked for.

    What came back crushed is brought back on hold and then scrapped: so both are told.

    Raises
    ------
    PostingRefused
        When the quantity is not more than nothing or no reason is given.
    """
    refuse_nothing(item, quantity, reason)
    heading = Heading(
        shop=shop, kind=Entry.Kind.RETURNED, by=by, at=at, reason=reason, paper=paper,
        night_key=night_key, client_key=client_key,
    )  # fmt: skip
    lines = _across(item, quantity, place, condition=condition, length_um=length_um)
    return record(heading, lambda: lines)


def _across(
    item: Item, quantity: Decimal, place: Place, *, condition: str, length_um: int
) -> list[NewLine]:
    """Over the threshold: onto the shelf (+) or off it (-)."""
    return [
        NewLine(item, SHELF, quantity, place, condition, length_um),
        NewLine(item, OUTSIDE, -quantity, length_um=length_um),
    ]
