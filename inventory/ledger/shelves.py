"""Moving things between shelves, on hold and back, and away; parts of ``actions``."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal
from uuid import UUID

from inventory.ledger.book import record
from inventory.ledger.drafts import SHELF, Heading, NewLine, Who, refuse_nothing
from inventory.ledger.models import Condition, Entry, Line
from inventory.ledger.refusals import PostingRefused
from inventory.materials.models import Item
from inventory.places.models import Place, Shop


def move(
    *,
    shop: Shop,
    item: Item,
    quantity: Decimal,
    source: Place,
    target: Place,
    by: Who,
    at: datetime,
    length_um: int = 0,
    condition: str = Condition.GOOD,
    reason: str = "",
    paper: str = "",
    night_key: str = "",
    client_key: UUID | None = None,
) -> Entry:
    """Carry something from one place to another.

    Raises
    ------
    NotEnough
        When fewer lie there.
    """
    refuse_nothing(item, quantity)
    if source.pk == target.pk:
        raise PostingRefused(f"{item} is at {source} already.")
    lines = [
        NewLine(item, SHELF, -quantity, source, condition, length_um),
        NewLine(item, SHELF, quantity, target, condition, length_um),
    ]
    heading = Heading(
        shop=shop, kind=Entry.Kind.MOVED, by=by, at=at, reason=reason, paper=paper,
        night_key=night_key, client_key=client_key,
    )  # fmt: skip
    return record(heading, lambda: lines)


def hold(
    *,
    shop: Shop,
    item: Item,
    quantity: Decimal,
    place: Place,
    reason: str,
    by: Who,
    at: datetime,
    length_um: int = 0,
    paper: str = "",
    night_key: str = "",
    client_key: UUID | None = None,
) -> Entry:
    """Set good things aside until somebody decides; a reason is asked for.

    Raises
    ------
    NotEnough
        When fewer good ones lie there.
    """
    refuse_nothing(item, quantity, reason)
    lines = [
        NewLine(item, SHELF, -quantity, place, Condition.GOOD, length_um),
        NewLine(item, SHELF, quantity, place, Condition.HOLD, length_um),
    ]
    heading = Heading(
        shop=shop, kind=Entry.Kind.HOLD, by=by, at=at, reason=reason, paper=paper,
        night_key=night_key, client_key=client_key,
    )  # fmt: skip
    return record(heading, lambda: lines)


def release(
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
    """Declare things on hold good again.

    Raises
    ------
    NotEnough
        When fewer are on hold there.
    """
    refuse_nothing(item, quantity)
    lines = [
        NewLine(item, SHELF, -quantity, place, Condition.HOLD, length_um),
        NewLine(item, SHELF, quantity, place, Condition.GOOD, length_um),
    ]
    heading = Heading(
        shop=shop, kind=Entry.Kind.RELEASE, by=by, at=at, reason=reason, paper=paper,
        night_key=night_key, client_key=client_key,
    )  # fmt: skip
    return record(heading, lambda: lines)


def scrap(
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
    """Throw something away; a reason is asked for.

    Raises
    ------
    NotEnough
        When fewer lie there in that condition.
    """
    refuse_nothing(item, quantity, reason)
    lines = [
        NewLine(item, SHELF, -quantity, place, condition, length_um),
        NewLine(item, Line.Account.SCRAP, quantity, length_um=length_um),
    ]
    heading = Heading(
        shop=shop, kind=Entry.Kind.SCRAP, by=by, at=at, reason=reason, paper=paper,
        night_key=night_key, client_key=client_key,
    )  # fmt: skip
    return record(heading, lambda: lines)
