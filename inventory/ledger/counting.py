"""What was counted against what is booked; parts of ``actions``."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from uuid import UUID

from inventory.ledger.book import record
from inventory.ledger.drafts import SHELF, Heading, NewLine, Who
from inventory.ledger.models import Balance, Entry, Line
from inventory.ledger.refusals import NothingMoved, PostingRefused, spelled
from inventory.materials.models import Item
from inventory.places.models import Place, Shop


@dataclass(frozen=True, slots=True)
class Counted:
    """What a person counted in a place: so many of an item, of one length and condition."""

    item: Item
    length_um: int
    condition: str
    quantity: Decimal


def count(
    *,
    shop: Shop,
    place: Place,
    counted: Sequence[Counted],
    by: Who,
    at: datetime,
    reason: str = "",
    paper: str = "",
    night_key: str = "",
    client_key: UUID | None = None,
) -> Entry | None:
    """Write the differences between what was counted in a place and the book.

    Only what was counted is compared; ``None`` when nothing differs.

    Raises
    ------
    PostingRefused
        When a count is negative or a thing is counted twice.
    """
    heading = Heading(
        shop=shop,
        kind=Entry.Kind.COUNTED,
        by=by,
        at=at,
        reason=reason or "unexplained",
        paper=paper,
        night_key=night_key,
        client_key=client_key,
    )

    def draw_up() -> Iterable[NewLine]:
        for row, more in differences(place, counted):
            yield NewLine(row.item, SHELF, more, place, row.condition, row.length_um)
            yield NewLine(
                row.item, Line.Account.DIFFERENCE, -more, None, row.condition, row.length_um
            )

    # An entry without lines would say that something happened when nothing did.
    try:
        return record(heading, draw_up)
    except NothingMoved:
        return None


def differences(place: Place, counted: Sequence[Counted]) -> list[tuple[Counted, Decimal]]:
    """What was counted and is not what the book says, with counted less booked. 1 query.

    Raises
    ------
    PostingRefused
        When a count is negative or a thing is counted twice.
    """
    booked = {
        (row.item_id, row.length_um, row.condition): row.quantity
        for row in Balance.objects.filter(place=place)
    }
    found: dict[tuple[int, int, str], tuple[Counted, Decimal]] = {}
    for row in counted:
        key = (row.item.pk, row.length_um, str(row.condition))
        if row.quantity < 0:
            raise PostingRefused(f"{row.item}: a count cannot be less than nothing.")
        if key in found:
            raise PostingRefused(f"{spelled(row.item, row.length_um)} is counted twice.")
        # What was never booked there counts as none, so a find is a difference like any other.
        found[key] = (row, row.quantity - booked.get(key, Decimal()))
    return [(row, more) for row, more in found.values() if more]
