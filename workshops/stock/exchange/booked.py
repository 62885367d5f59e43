"""What the book has already under the keys of a list's rows."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from uuid import UUID

from inventory.ledger.models import Entry, Line
from inventory.places.models import Shop
from workshops.stock.exchange.ends import End

# item, length, end as it is compared: how many in all
Net = dict[tuple[int, int, tuple[str, str, str]], Decimal]
AT_ONCE = 10_000  # keys in one query; SQLite takes 32,766


@dataclass(frozen=True, slots=True)
class Booked:
    """An entry that is in the book, and what its lines come to."""

    entry: int
    lines: Net


def booked_under(shop: Shop, keys: Sequence[UUID]) -> dict[UUID, Booked]:
    """The entries of those keys, by key. 2 queries for 10,000 keys."""
    found: dict[UUID, Booked] = {}
    for start in range(0, len(keys), AT_ONCE):
        entries = Entry.objects.filter(shop=shop, client_key__in=keys[start : start + AT_ONCE])
        numbers = dict(entries.order_by().values_list("pk", "client_key"))
        lines = _lines_of(list(numbers))
        found |= {key: Booked(pk, net(lines[pk])) for pk, key in numbers.items()}
    return found


def _lines_of(
    entries: Sequence[int],
) -> dict[int, list[tuple[int, int, tuple[str, str, str], Decimal]]]:
    rows = Line.objects.filter(entry__in=entries).order_by().values_list(
        "entry", "item", "length_um", "account", "place__name", "condition", "quantity"
    )  # fmt: skip
    found: dict[int, list[tuple[int, int, tuple[str, str, str], Decimal]]] = defaultdict(list)
    for entry, item, length_um, account, place, condition, quantity in rows:
        end = End(account, place or "", condition)
        found[entry].append((item, length_um, end.compared, quantity))
    return found


def net(lines: Iterable[tuple[int, int, tuple[str, str, str], Decimal]]) -> Net:
    """What lines come to by item, length and end; what comes to nothing is left out."""
    sums: Net = defaultdict(Decimal)
    for item, length_um, end, quantity in lines:
        sums[item, length_um, end] += quantity
    return {spot: total for spot, total in sums.items() if total}
