"""Why the book refuses to be written, each refusal a sentence a person can act on."""

from __future__ import annotations

from decimal import Decimal

from inventory.materials.models import Item
from inventory.measures.lengths import spell_length
from inventory.places.models import Place


class PostingRefused(ValueError):
    """Something that cannot be written in the book. Nothing of it is written."""

    number: int | None = None  # which of many that were posted together, from 0 on


class Unbalanced(PostingRefused):
    """Lines that do not come to nothing for every item and length."""


class NothingMoved(PostingRefused):
    """An entry without a line that moves anything."""


class NotEnough(PostingRefused):
    """More is taken than lies there."""

    def __init__(
        self,
        item: Item,
        place: Place | None,
        wanted: Decimal,
        there: Decimal,
        *,
        length_um: int = 0,
    ) -> None:
        self.item = item
        self.place = place
        self.wanted = wanted
        self.there = there
        self.length_um = length_um
        where = f"at {place}" if place else "in the shop"
        super().__init__(
            f"{spelled(item, length_um)}: {plain(wanted)} wanted, {plain(there)} {where}. "
            "Count the place, or write the goods-in first."
        )


class AlreadyCorrected(PostingRefused):
    """An entry whose mirror image was posted before, or that is such a mirror image."""


def spelled(item: Item, length_um: int) -> str:
    """The item's name, with the length when it is held by length."""
    if not length_um:
        return str(item)
    return f"{item}, {spell_length(length_um, item.shop.length_units)}"


def plain(quantity: Decimal) -> str:
    """A quantity without trailing noughts: ``3``, ``0.25``."""
    # ":f" because a plain normalize turns 200 into 2E+2.
    return f"{quantity.normalize():f}" if quantity else "0"
