"""How one entry is written: lock the book, look for its key, write lines, move balances.

``record`` is the only way into the book; ``actions`` and ``shelves`` say what is written.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from decimal import Decimal
from functools import partial
from uuid import uuid4

from django.db import connection, transaction
from django.utils import timezone

from inventory.ledger.drafts import SHELF, Heading, NewLine, merge, refuse_nonsense, shortfall
from inventory.ledger.models import TOO_MANY, Entry
from inventory.ledger.refusals import NotEnough, PostingRefused
from inventory.ledger.statements import Spot, Statements
from inventory.places.models import Shop

NOTHING = Decimal()
_IS_HISTORY = ContextVar("history", default=False)


@contextmanager
def written_as_it_happened() -> Iterator[None]:
    """Let entries say that they were written when they happened, and not now.

    For a history that is loaded and not typed in: the demo's winter was written night by
    night, as it tells it.
    """
    before = _IS_HISTORY.set(True)
    try:
        yield
    finally:
        _IS_HISTORY.reset(before)


def lock_book(shop: Shop) -> None:
    """Let nobody else write in this shop's book until the transaction ends.

    With one writer at a time, balances may be read and then written as exact decimals, and
    two tablets sending one tally find each other's key. SQLite's IMMEDIATE transactions
    lock already, which saves the query there.
    """
    if connection.features.has_select_for_update:
        # "no key" lets other tables go on referring to the shop meanwhile
        Shop.objects.select_for_update(no_key=True).only("pk").get(pk=shop.pk)


def record(
    heading: Heading,
    draw_up: Callable[[], Iterable[NewLine]],
    then: Callable[[Entry], object] | None = None,
) -> Entry:
    """Write one entry, once: a key that was written before gives back its entry.

    ``draw_up`` makes the lines; it is called with the book locked, so the balances that it
    reads are the ones the lines are written against. ``then`` writes what belongs to a
    fresh entry, in the same transaction.

    Raises
    ------
    PostingRefused
        ``Unbalanced``, ``NotEnough``, ``NothingMoved`` or a line that names what it cannot.
    """
    with transaction.atomic(), Statements() as statements:
        lock_book(heading.shop)
        entry, is_new = _write_once(heading, draw_up, statements)
        if then is not None and is_new:
            then(entry)
    return entry


def record_many(shop: Shop, drafts: Iterable[tuple[Heading, Iterable[NewLine]]]) -> list[Entry]:
    """Write many entries of one shop under one lock: all of them or none.

    Raises
    ------
    PostingRefused
        As ``record`` does; its ``number`` says which draft it was, from 0 on.
    """
    entries: list[Entry] = []
    with transaction.atomic(), Statements() as statements:
        lock_book(shop)
        for number, (heading, lines) in enumerate(drafts):
            try:
                entries.append(_write_once(heading, partial(iter, lines), statements)[0])
            except PostingRefused as refused:
                refused.number = number
                raise
    return entries


def _write_once(
    heading: Heading, draw_up: Callable[[], Iterable[NewLine]], statements: Statements
) -> tuple[Entry, bool]:
    """The entry, and whether it is new; for a caller that has locked the book."""
    key = heading.client_key
    already = statements.entry_with(heading.shop.pk, key) if key else None
    if already is not None:
        return Entry.objects.get(pk=already), False
    return _write(heading, merge(draw_up()), statements), True


def _write(heading: Heading, merged: Sequence[NewLine], statements: Statements) -> Entry:
    refuse_nonsense(heading, merged)
    entry = Entry(
        shop=heading.shop,
        kind=str(heading.kind),
        by_id=heading.by.pk if heading.by else None,
        at=heading.at,
        recorded_at=heading.at if _IS_HISTORY.get() else timezone.now(),
        reason=heading.reason or shortfall(heading.kind, merged),
        paper=heading.paper,
        night_key=heading.night_key,
        client_key=heading.client_key or uuid4(),
        corrects=heading.corrects,
    )
    # The balances come last: when one would fall below nothing, the caller's transaction
    # takes the entry and its lines with it.
    statements.write_entry(entry)
    statements.write_lines([_row(entry, line) for line in merged])
    _move_balances(merged, statements)
    return entry


def _row(entry: Entry, line: NewLine) -> tuple[object, ...]:
    place = line.place.pk if line.place else None
    condition = str(line.condition)
    return (
        entry.pk, line.item.pk, str(line.account), place, condition, line.length_um, line.quantity
    )  # fmt: skip


def _move_balances(lines: Sequence[NewLine], statements: Statements) -> None:
    """Add the shelf lines to the balances, refusing any that would fall below nothing."""
    # Lines were merged, so every spot comes once.
    moved = {_spot(line): line for line in lines if line.account == SHELF}
    if not moved:
        return
    there = statements.quantities_at(moved)
    # Summed here and not in SQL: SQLite adds decimals as floats, and 0.3 - 0.1 - 0.2
    # would fall below nothing.
    after = {spot: there.get(spot, NOTHING) + line.quantity for spot, line in moved.items()}
    for spot, quantity in after.items():
        line = moved[spot]
        if quantity < 0:
            had = there.get(spot, NOTHING)
            raise NotEnough(line.item, line.place, -line.quantity, had, length_um=line.length_um)
        if quantity >= TOO_MANY:
            raise PostingRefused(f"{line.item}: more than the book can count in one place.")
    statements.set_quantities(after)


def _spot(line: NewLine) -> Spot:
    assert line.place is not None  # a shelf line, refused otherwise
    return (line.item.pk, line.place.pk, str(line.condition), line.length_um)
