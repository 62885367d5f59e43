"""Writing the derived balances anew; nothing that was posted changes."""

from __future__ import annotations

from django.db import transaction

from inventory.ledger.book import lock_book
from inventory.ledger.checking import check
from inventory.ledger.models import Balance
from inventory.ledger.statements import Spot, Statements
from inventory.places.models import Shop


def mend(shop: Shop) -> int:
    """Write balances anew from their lines; how many. Those that would be negative stay.

    Balances are the one thing in the book that is derived, so nothing that was posted changes.
    """
    with transaction.atomic(), Statements() as statements:
        lock_book(shop)
        wrong = [each for each in check(shop) if each.lines >= 0]
        statements.set_quantities({_spot(each.balance): each.lines for each in wrong})
    return len(wrong)


def _spot(row: Balance) -> Spot:
    return row.item_id, row.place_id, row.condition, row.length_um
