"""Rows of a list of movements as entries, through the book's own actions."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from decimal import Decimal
from typing import Any, Protocol
from uuid import UUID

from inventory.ledger import actions as ledger
from inventory.ledger.actions import NewLine, Posting
from inventory.ledger.models import Condition, Entry
from inventory.materials.models import Item
from workshops.access.models import User
from workshops.stock.exchange.ends import End
from workshops.stock.exchange.known import Known

LONGEST_REASON, LONGEST_PAPER = 200, 80


class Moved(Protocol):
    """What is posted of a row."""

    @property
    def number(self) -> int: ...
    @property
    def kind(self) -> str: ...
    @property
    def at(self) -> datetime: ...
    @property
    def item(self) -> Item: ...
    @property
    def length_um(self) -> int: ...
    @property
    def quantity(self) -> Decimal: ...
    @property
    def source(self) -> End: ...
    @property
    def target(self) -> End: ...
    @property
    def values(self) -> Mapping[str, Any]: ...


def post_groups(
    known: Known, groups: Mapping[UUID, Sequence[Moved]], *, by: User, note: str
) -> None:
    """One entry of each group of rows, under its key and in this order.

    ``by`` is who brought the list, for they wrote it in the book; whom the list names stands
    in the reason. The paper is the one told, else the file and the row.

    Raises
    ------
    PostingRefused
        When the book refuses one.
    """
    waiting: list[Posting] = []
    for key, group in groups.items():
        first = group[0]
        paper = (first.values.get("paper") or f"{note}, row {first.number}")[-LONGEST_PAPER:]
        if first.kind == Entry.Kind.GOODS_IN and len(group) == 1 and _is_good(first.target):
            # In its turn: what is used below may have come in here.
            ledger.post_many(shop=known.shop, postings=waiting, by=by)
            waiting = []
            _goods_in(known, first, key=key, by=by, paper=paper)
        else:
            waiting.append(_posting(known, group, key=key, paper=paper))
    ledger.post_many(shop=known.shop, postings=waiting, by=by)


def _posting(known: Known, group: Sequence[Moved], *, key: UUID, paper: str) -> Posting:
    first = group[0]
    return Posting(
        kind=first.kind, at=first.at, reason=_reason(first.values), paper=paper,
        lines=[line for move in group for line in _lines(known, move)],
        night_key=first.values.get("night") or "", client_key=key,
    )  # fmt: skip


def _is_good(end: End) -> bool:
    return end.is_shelf and end.condition == Condition.GOOD


def _reason(told: Mapping[str, Any]) -> str:
    reason, who = told.get("reason") or "", told.get("who")
    if who and len(reason) + len(who) + 3 <= LONGEST_REASON:
        return f"{reason} ({who})" if reason else f"({who})"
    return str(reason)


def _goods_in(known: Known, move: Moved, *, key: UUID, by: User, paper: str) -> Entry:
    told = move.values
    return ledger.goods_in(
        shop=known.shop, item=move.item, quantity=move.quantity, length_um=move.length_um,
        place=known.real(known.place(move.target.place)), source=told.get("supplier") or "",
        is_donated=bool(told.get("is_donated")), value=told.get("value"),
        value_basis=told.get("value_basis") or "", paper=paper, by=by, at=move.at,
        client_key=key,
    )  # fmt: skip


def _lines(known: Known, move: Moved) -> list[NewLine]:
    return [
        _line(known, move, move.source, -move.quantity),
        _line(known, move, move.target, move.quantity),
    ]


def _line(known: Known, move: Moved, end: End, quantity: Decimal) -> NewLine:
    place = known.real(known.place(end.place)) if end.is_shelf else None
    condition = end.condition if end.is_shelf else Condition.GOOD
    return NewLine(move.item, end.account, quantity, place, condition, move.length_um)
