"""What was typed into the book after a sheet was posted, for the time before its count."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from django.db.models import Exists, F, OuterRef

from inventory.stocktake.book_then import book_then, spot_of
from inventory.stocktake.models import CountLine, Stocktake


@dataclass(frozen=True, slots=True)
class Late:
    """A posted count that the book of its moment no longer agrees with."""

    line: CountLine
    booked: Decimal

    @property
    def off(self) -> Decimal:
        """What a settling entry must add, or take when it is negative."""
        assert self.line.agreed is not None  # posted, as the query asks
        return self.line.agreed - self.booked


def late_of(stocktake: Stocktake) -> list[Late]:
    """Posted lines that something typed in late has put out, earliest count first. 3 queries.

    A place counted again since is left out, because the later count has the last word; so is
    a count that was taken back.
    """
    again = CountLine.objects.filter(
        item=OuterRef("item"),
        sheet__place=OuterRef("sheet__place"),
        condition=OuterRef("condition"),
        length_um=OuterRef("length_um"),
        agreed_at__gt=OuterRef("agreed_at"),
    )
    lines = list(
        CountLine.objects.filter(sheet__stocktake=stocktake, agreed_at__isnull=False)
        .filter(~Exists(again), entry__correction__isnull=True)
        .select_related("item__shop", "sheet__place", "sheet__stocktake")
        .order_by(F("agreed_at").asc(), "pk")
    )
    if not lines:
        return []
    book = book_then(list({line.sheet.place for line in lines}), lines)
    found = []
    for line in lines:
        assert line.agreed_at is not None
        booked = book.at(spot_of(line, line.sheet.place), line.agreed_at)
        if booked != line.agreed:
            found.append(Late(line, booked))
    return found
