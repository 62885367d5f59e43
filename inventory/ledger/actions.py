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

from inventory.ledger.book import lock_book, record, record_many, written_as_it_happened
from inventory.ledger.counting import Counted, count, differences
from inventory.ledger.drafts import SHELF, Heading, NewLine, Who, refuse_nothing
from inventory.ledger.making import lines_made, lines_used
from inventory.ledger.models import Entry, GoodsIn, Line
from inventory.ledger.outside import bring_back, return_goods, set_out
from inventory.ledger.refusals import (
    AlreadyCorrected,
    NotEnough,
    NothingMoved,
    PostingRefused,
    Unbalanced,
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
    "bring_back",
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
    "return_goods",
    "scrap",
    "set_out",
    "written_as_it_happened",
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
    night_key: str = "",
    client_key: UUID | None = None,
) -> Entry:
    """Book in a delivery of one item, bought or donated.

    Raises
    ------
    PostingRefused
        When the quantity is not more than nothing, or has no source.
    """
    refuse_nothing(item, quantity)
    if not source.strip():
        raise PostingRefused(f"{item}: say who it was bought from or who gave it.")
    heading = Heading(
        shop=shop, kind=Kind.GOODS_IN, by=by, at=at, paper=paper, night_key=night_key,
        client_key=client_key,
    )  # fmt: skip
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
