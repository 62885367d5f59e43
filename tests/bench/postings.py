"""Postings a second: an entry that uses two things, four lines, as most tallies write.

One by one each is a transaction of its own with its key, as a tablet sends it.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from decimal import Decimal
from uuid import uuid4

from django.utils import timezone

from inventory.ledger import actions
from inventory.ledger.models import Balance, Entry, Line
from inventory.places.models import Shop

COUNT = 2_000


def postings_one_by_one(shop: Shop) -> float:
    """``post()`` so many times."""
    entries = _entries(shop)

    def work() -> None:
        for entry in entries:
            actions.post(
                shop=shop, kind=entry.kind, lines=entry.lines, by=None, at=entry.at,
                client_key=entry.client_key,
            )  # fmt: skip

    return _rate(work)


def postings_in_one(shop: Shop) -> float:
    """``post_many()`` once."""
    entries = _entries(shop)
    return _rate(lambda: actions.post_many(shop=shop, postings=entries, by=None))


def _entries(shop: Shop) -> list[actions.Posting]:
    """Two things each time, one of each, from where most of them lie."""
    spots = list(
        Balance.objects.filter(item__shop=shop)
        .select_related("item", "place")
        .order_by("-quantity")
    )[:50]
    moved = [_taken(spots[n % len(spots)]) + _taken(spots[(n + 7) % len(spots)])
             for n in range(COUNT)]  # fmt: skip
    now = timezone.now()
    return [
        actions.Posting(kind=Entry.Kind.USED, lines=lines, at=now, client_key=uuid4())
        for lines in moved
    ]


def _taken(spot: Balance) -> list[actions.NewLine]:
    least = Decimal("0.001")  # so that no shelf runs empty on the way
    return [
        actions.NewLine(spot.item, Line.Account.SHELF, -least, spot.place),
        actions.NewLine(spot.item, Line.Account.USED, least),
    ]


def _rate(work: Callable[[], object]) -> float:
    began = time.perf_counter()
    work()
    return COUNT / (time.perf_counter() - began)
