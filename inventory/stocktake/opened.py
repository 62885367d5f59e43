"""A sheet that may still be changed, with everybody else kept waiting meanwhile."""

from __future__ import annotations

from django.contrib.auth.base_user import AbstractBaseUser

from inventory.ledger.actions import lock_book
from inventory.stocktake.models import CountSheet
from inventory.stocktake.refusals import StocktakeRefused

Who = AbstractBaseUser | None


def still_open(sheet: CountSheet) -> CountSheet:
    """The sheet as it stands now, with the book locked.

    Raises
    ------
    StocktakeRefused
        When the sheet is posted or its stocktake is closed.
    """
    # Nothing moves between comparing a count with the book and writing the difference.
    lock_book(sheet.stocktake.shop)
    fresh = CountSheet.objects.select_related("stocktake__shop", "place").get(pk=sheet.pk)
    if fresh.posted_at:
        raise StocktakeRefused(f"{fresh.place} is posted: what is found out now is a new count.")
    if fresh.stocktake.closed_at:
        raise StocktakeRefused(f"{fresh.stocktake} is closed: open another stocktake.")
    return fresh
