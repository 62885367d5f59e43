"""What cutting sticks takes from the shelves and puts on them, as lines of the book.

::

    |trim|  piece  |k|  piece  |k|      left over       |
      used    shelf  used shelf used   shelf, or scrap

The stick goes to *used* whole and everything found again comes back from there, so what
stays used is what blade and trim took, to the micrometre.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from inventory.ledger.actions import NewLine
from inventory.ledger.models import Balance, Condition, Line
from inventory.materials.models import Item
from inventory.places.models import Place

SHELF = Line.Account.SHELF
USED = Line.Account.USED
SCRAP = Line.Account.SCRAP
DIFFERENCE = Line.Account.DIFFERENCE


@dataclass(frozen=True, slots=True)
class Sawn:
    """What came of ``sticks`` alike: ``pieces`` in all by length, ``left_um`` of each stick."""

    length_um: int
    sticks: int
    pieces: Mapping[int, int]
    left_um: int
    is_kept: bool


@dataclass(frozen=True, slots=True)
class Places:
    """Where pieces and drops are put."""

    pieces: Place
    drops: Place


def sticks_out(item: Item, length_um: int, sticks: int) -> tuple[list[NewLine], int]:
    """Sticks from where they lie, the home first, and how many were not booked. 1 query."""
    lines, left = [NewLine(item, USED, Decimal(sticks), length_um=length_um)], sticks
    rows = Balance.objects.filter(
        item=item, length_um=length_um, condition=Condition.GOOD, quantity__gt=0
    ).select_related("place")
    for row in sorted(rows, key=lambda row: (row.place_id != item.home_id, -row.quantity)):
        part = min(left, int(row.quantity))
        lines.append(NewLine(item, SHELF, -Decimal(part), row.place, length_um=length_um))
        left -= part
    # The stick was on the saw, so the book had missed it: what people did is never refused.
    lines.append(NewLine(item, DIFFERENCE, -Decimal(left), length_um=length_um))
    return lines, left


def truly(item: Item, booked_um: int, true_um: int) -> Iterable[NewLine]:
    """One stick taken as one length that is of another: a count difference of both."""
    yield NewLine(item, USED, -Decimal(1), length_um=booked_um)
    yield NewLine(item, DIFFERENCE, Decimal(1), length_um=booked_um)
    yield NewLine(item, DIFFERENCE, -Decimal(1), length_um=true_um)
    yield NewLine(item, USED, Decimal(1), length_um=true_um)


def back(item: Item, sawn: Sawn, places: Places) -> Iterable[NewLine]:
    """Pieces and drops to their shelves, short ends to scrap."""
    for length_um, count in sawn.pieces.items():
        yield NewLine(item, SHELF, Decimal(count), places.pieces, length_um=length_um)
        yield NewLine(item, USED, -Decimal(count), length_um=length_um)
    if not sawn.left_um:
        return
    sticks = Decimal(sawn.sticks)
    if sawn.is_kept:
        yield NewLine(item, SHELF, sticks, places.drops, length_um=sawn.left_um)
    else:
        yield NewLine(item, SCRAP, sticks, length_um=sawn.left_um)
    yield NewLine(item, USED, -sticks, length_um=sawn.left_um)
