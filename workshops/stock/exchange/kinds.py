"""The three lists that come in and go out: their words, columns, plans and permissions."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from inventory.places.models import Shop
from workshops.access.permissions import Permission
from workshops.common.columns import Column, Reading
from workshops.stock.exchange import counts, item_columns, items, movement_columns, movements
from workshops.stock.exchange.fates import Fate, Plan


@dataclass(frozen=True)
class ListKind:
    """One kind of list."""

    key: str
    title: str
    says: str
    permission: Permission  # what bringing one in takes
    columns: Callable[[Shop], Sequence[Column]]
    plan: Callable[[Shop, Reading, Mapping[str, Any]], Plan]
    words: Mapping[Fate, str]


ITEMS = ListKind(
    "items", "Items", "What is counted: names, sections, packs, suppliers, levels.",
    Permission.EDIT_STOCK, item_columns.columns, items.plan,
    {Fate.REFUSED: "cannot be", Fate.NEW: "new item", Fate.CHANGED: "described anew",
     Fate.SAME: "stays as it is"},
)  # fmt: skip
STOCK = ListKind(
    "stock", "Stock", "How many lie where, by place, length and condition.",
    Permission.POST_STOCK, counts.columns, counts.plan,
    {Fate.REFUSED: "cannot be", Fate.NEW: "comes in", Fate.CHANGED: "differs",
     Fate.SAME: "agrees"},
)  # fmt: skip
MOVEMENTS = ListKind(
    "movements", "Movements", "What came, moved, was used or scrapped: when, from where, to where.",
    Permission.POST_STOCK, movement_columns.columns, movements.plan,
    {Fate.REFUSED: "cannot be", Fate.NEW: "will be written", Fate.CHANGED: "differs",
     Fate.SAME: "already in the book"},
)  # fmt: skip

KINDS: dict[str, ListKind] = {kind.key: kind for kind in (ITEMS, STOCK, MOVEMENTS)}
