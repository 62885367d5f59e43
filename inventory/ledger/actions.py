"""Writing in the book. Every action is one entry, all of it or nothing.

Each takes ``by`` (who), ``at`` (when it happened, aware) and an optional ``client_key``:
the same key never writes twice, it returns what was written the first time. Each may
raise ``PostingRefused`` (of which ``NotEnough`` and ``Unbalanced`` are kinds).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Any
from uuid import UUID

from inventory.ledger.book import lock_book, record, record_many
from inventory.ledger.drafts import SHELF, Heading, NewLine, Who
from inventory.ledger.making import lines_made, lines_used
from inventory.ledger.models import Balance, Entry, GoodsIn, Line
from inventory.ledger.refusals import (
    AlreadyCorrected,
    NotEnough,
    NothingMoved,
    PostingRefused,
    Unbalanced,
    spelled,
)
from inventory.ledger.shelves import hold, move, release, scrap
from inventory.materials.models import Item, Recipe
from inventory.places.models import Place, Shop

__all__ = [
    "AlreadyCorrected",
    "Counted",
    "NewLine",
    "NotEnough",
    "NothingMoved",
    "Posting",
    "PostingRefused",
    "Unbalanced",
    "correct",
    "count",
    "differences",
    "goods_in",
    "hold",
    "lock_book",
    "make",
    "move",
    "post",
    "post_many",
    "release",
    "scrap",
]

Kind = Entry.Kind
Account = Line.Account


@dataclass(frozen=True, slots=True, kw_only=True)
class Posting:
    """One entry among many that are posted together."""

    kind: str
    lines: Sequence[NewLine]
    at: datetime
    reason: str = ""
    paper: str = ""
    night_key: str = ""
    client_key: UUID | None = None


@dataclass(frozen=True, slots=True)
class Counted:
    """What a person counted in a place: so many of an item, of one length and condition."""

    item: Item
    length_um: int
    condition: str
    quantity: Decimal


def post(
    *,
    shop: Shop,
    kind: str,
    lines: Sequence[NewLine],
    by: Who,
    at: datetime,
    reason: str = "",
    paper: str = "",
    night_key: str = "",
    client_key: UUID | None = None,
) -> Entry:
    """Write any balanced entry.

    Raises
    ------
    PostingRefused
        ``Unbalanced``, ``NotEnough``, or a line that names what it cannot.
    """
    heading = Heading(
        shop=shop,
        kind=kind,
        by=by,
        at=at,
        reason=reason,
        paper=paper,
        night_key=night_key,
        client_key=client_key,
    )
    return record(heading, lambda: lines)


def post_many(*, shop: Shop, postings: Iterable[Posting], by: Who) -> list[Entry]:
    """Write many entries in one transaction: all of them, or nothing when one is refused.

    Raises
    ------
    PostingRefused
        As ``post`` does; its ``number`` says which posting it was, from 0 on.
    """
    drafts = [(Heading(shop=shop, by=by, **_heading(each)), each.lines) for each in postings]
    return record_many(shop, drafts)


def _heading(posting: Posting) -> dict[str, Any]:
    named = ("kind", "at", "reason", "paper", "night_key", "client_key")
    return {name: getattr(posting, name) for name in named}


def goods_in(
    *,
    shop: Shop,
    item: Item,
    quantity: Decimal,
    place: Place,
    source: str,
    is_donated: bool,
    by: Who,
    at: datetime,
    length_um: int = 0,
    value: Decimal | None = None,
    value_basis: str = "",
    paper: str = "",
    client_key: UUID | None = None,
) -> Entry:
    """Book in a delivery of one item, bought or donated.

    Raises
    ------
    PostingRefused
        When the quantity is not more than nothing, or has no source.
    """
    if quantity <= 0:
        raise PostingRefused(f"{item}: the quantity must be more than nothing.")
    if not source.strip():
        raise PostingRefused(f"{item}: say who it was bought from or who gave it.")
    heading = Heading(
        shop=shop, kind=Kind.GOODS_IN, by=by, at=at, paper=paper, client_key=client_key
    )
    # From the outside account and not from nowhere: so the book as a whole adds up to nothing.
    came = [
        NewLine(item, SHELF, quantity, place, length_um=length_um),
        NewLine(item, Account.OUTSIDE, -quantity, length_um=length_um),
    ]
    told = {"is_donated": is_donated, "value": value, "value_basis": value_basis}
    # With a fresh entry only: the same delivery sent twice has its row already.
    return record(
        heading,
        lambda: came,
        then=lambda entry: GoodsIn.objects.create(entry=entry, source=source, **told),
    )


def make(
    *,
    shop: Shop,
    recipe: Recipe,
    good: int,
    hold: int = 0,
    scrap: int = 0,
    by: Who,
    at: datetime,
    night_key: str = "",
    client_key: UUID | None = None,
    reason: str = "",
    paper: str = "",
    cover_shortfall: bool = True,
) -> Entry:
    """Write what was made and what it took: one line of a tally.

    Bad pieces use material too. Pieces of a length come from the best-fitting drop or
    stick; what is left goes back as a drop or is scrap. What the book says is not there is
    drawn from the count difference, in the same entry, so that taking the entry back takes
    that back too; with ``cover_shortfall=False`` the making is refused instead.

    Raises
    ------
    PostingRefused
        When no piece is given or one is negative.
    NotEnough
        For the first thing short, only when the shortfall is not covered.
    """
    pieces = good + hold + scrap
    if min(good, hold, scrap) < 0 or not pieces:
        raise PostingRefused(f"{recipe}: give how many were made, good, on hold or scrap.")
    heading = Heading(
        shop=shop,
        kind=Kind.MADE,
        by=by,
        at=at,
        reason=reason,
        paper=paper,
        night_key=night_key,
        client_key=client_key,
    )

    # Called with the book locked: two tallies never cut the same stick.
    def draw_up() -> Iterable[NewLine]:
        yield from lines_used(recipe, pieces, cover_shortfall=cover_shortfall)
        yield from lines_made(recipe.output, good=good, hold=hold, scrap=scrap)

    return record(heading, draw_up)


def count(
    *,
    shop: Shop,
    place: Place,
    counted: Sequence[Counted],
    by: Who,
    at: datetime,
    reason: str = "",
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
        kind=Kind.COUNTED,
        by=by,
        at=at,
        reason=reason or "unexplained",
        client_key=client_key,
    )

    def draw_up() -> Iterable[NewLine]:
        for row, more in differences(place, counted):
            yield NewLine(row.item, SHELF, more, place, row.condition, row.length_um)
            yield NewLine(row.item, Account.DIFFERENCE, -more, None, row.condition, row.length_um)

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


def correct(
    entry: Entry, *, reason: str, by: Who, at: datetime, client_key: UUID | None = None
) -> Entry:
    """Take an entry back by posting its mirror image.

    Raises
    ------
    AlreadyCorrected
        When it was taken back before, or is itself a correction.
    NotEnough
        When what it brought has been used since.
    """
    if not reason.strip():
        raise PostingRefused("Say why the entry is corrected.")
    heading = Heading(
        shop=entry.shop,
        kind=Kind.CORRECTION,
        by=by,
        at=at,
        reason=reason,
        paper=entry.paper,
        night_key=entry.night_key,
        client_key=client_key,
        corrects=entry,
    )
    # Asked inside the lock: two people who take back one entry at once must not both succeed.
    return record(heading, lambda: _mirrored(entry))


def _mirrored(entry: Entry) -> Iterable[NewLine]:
    """The lines with their signs turned round; called with the book locked."""
    if entry.kind == Kind.CORRECTION:
        raise AlreadyCorrected("A correction is not corrected: write the right entry anew.")
    if Entry.objects.filter(corrects=entry).exists():
        raise AlreadyCorrected(f"“{entry}” was taken back before.")
    for line in entry.lines.select_related("item", "item__shop", "place"):
        yield NewLine(
            line.item, line.account, -line.quantity, line.place, line.condition, line.length_um
        )
