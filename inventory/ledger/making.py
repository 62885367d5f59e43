"""What making something takes from the shelves and puts on the rack, as lines of the book."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from decimal import ROUND_HALF_UP, Decimal
from math import ceil

from inventory.ledger.cutting_from import Saw, Taken, cut_from
from inventory.ledger.drafts import SHELF, NewLine
from inventory.ledger.models import FINEST, Balance, Condition, Line
from inventory.ledger.refusals import NotEnough
from inventory.materials.models import Item, Recipe, RecipeLine
from inventory.materials.queries import lengths_in_use
from inventory.places.actions import floor_of
from inventory.places.models import Place

USED = Line.Account.USED
SCRAP = Line.Account.SCRAP
DIFFERENCE = Line.Account.DIFFERENCE


def home_of(item: Item) -> Place:
    """Where the item is kept; the shop floor when nobody gave it a place."""
    return item.home or floor_of(item.shop)


def lines_made(output: Item, *, good: int, hold: int, scrap: int) -> list[NewLine]:
    """The pieces made: good and held ones on the rack, bad ones to scrap."""
    home = home_of(output)
    lines = [
        NewLine(output, SHELF, Decimal(good), home),
        NewLine(output, SHELF, Decimal(hold), home, Condition.HOLD),
        # Lines of nothing fall out when the entry is merged.
        NewLine(output, SCRAP, Decimal(scrap)),
    ]
    return [*lines, NewLine(output, Line.Account.MADE, -Decimal(good + hold + scrap))]


def lines_used(recipe: Recipe, pieces: int, *, cover_shortfall: bool) -> list[NewLine]:
    """What making so many pieces consumes, from the places where it lies. 2 queries, 3 with metal.

    What is not there is drawn from the count difference when ``cover_shortfall``: the
    pieces are on the rack, so the book had missed what they were made from.

    Raises
    ------
    NotEnough
        For the first thing that is short, unless the shortfall is covered.
    """
    parts = list(recipe.lines.select_related("item", "item__home", "item__shop"))
    lying = _lying({part.item_id for part in parts})
    by_item: dict[Item, list[RecipeLine]] = defaultdict(list)
    for part in parts:
        by_item[part.item].append(part)
    metals = [item.pk for item in by_item if item.is_by_length]
    ahead = lengths_in_use(metals) if metals else {}
    lines: list[NewLine] = []
    for item, wanted in by_item.items():
        if item.is_by_length:
            lengths = _lengths(recipe, wanted, pieces)
            # Its own as well: it may be the recipe of a drawing that is no longer in use.
            apart = ahead[item.pk] | set(lengths)
            lines += _cut(item, lengths, lying[item.pk], apart, cover_shortfall=cover_shortfall)
        else:
            # Rounded once for all pieces: a tenth of a box each must not become nothing.
            share = sum((part.quantity for part in wanted), Decimal()) * pieces / recipe.quantity
            quantity = share.quantize(FINEST, ROUND_HALF_UP)
            lines += _taken(item, quantity, lying[item.pk], cover_shortfall)
    return lines


def _lying(items: Iterable[int]) -> dict[int, list[Balance]]:
    """Good balances of the items, by item."""
    found: dict[int, list[Balance]] = defaultdict(list)
    rows = Balance.objects.filter(item__in=items, condition=Condition.GOOD, quantity__gt=0)
    # In a fixed order, so that the same tally posts the same lines on any database.
    for row in rows.select_related("place").order_by("place_id"):
        found[row.item_id].append(row)
    return found


def _lengths(recipe: Recipe, parts: Iterable[RecipeLine], pieces: int) -> list[int]:
    """One length for each piece to cut; a started share of a batch counts as whole."""
    return [
        part.length_um
        for part in parts
        # Rounded up: a piece begun is a piece cut.
        for _ in range(ceil(part.quantity * pieces / recipe.quantity))
    ]


def _taken(
    item: Item, wanted: Decimal, lying: Sequence[Balance], cover_shortfall: bool
) -> list[NewLine]:
    """Take a plain quantity: from its home first, then from where most of it lies."""
    lines = [NewLine(item, USED, wanted)]
    left = wanted
    # The home is what people reach for; after that, empty no more places than needed.
    for row in sorted(lying, key=lambda row: (row.place_id != item.home_id, -row.quantity)):
        part = min(left, row.quantity)
        lines.append(NewLine(item, SHELF, -part, row.place))
        left -= part
    if left and not cover_shortfall:
        raise NotEnough(item, None, wanted, wanted - left)
    return [*lines, NewLine(item, DIFFERENCE, -left)]


def _cut(
    item: Item,
    pieces: Sequence[int],
    lying: Sequence[Balance],
    cut_ahead: set[int],
    *,
    cover_shortfall: bool,
) -> list[NewLine]:
    """Cut pieces from the best-fitting sticks: sticks out, drops and scrap back."""
    rack = [(row.place, row.length_um, int(row.quantity)) for row in lying]
    taken = cut_from(Saw.of(item), pieces, rack, spare=home_of(item), cut_ahead=cut_ahead)
    if taken.missing and not cover_shortfall:
        # The longest comes first and is the hardest to find: that one is named.
        length_um, short = next(iter(taken.missing.items()))
        there = sum(count for _, length, count in rack if length >= length_um)
        wanted = Decimal(there + short)
        raise NotEnough(item, None, wanted, Decimal(there), length_um=length_um)
    return [*_sticks_out(item, taken), *_remnants_back(item, taken)]


def _sticks_out(item: Item, taken: Taken[Place]) -> Iterable[NewLine]:
    for (place, length_um), count in taken.sticks.items():
        yield NewLine(item, SHELF, -Decimal(count), place, length_um=length_um)
        yield NewLine(item, USED, Decimal(count), length_um=length_um)
    for length_um, count in taken.missing.items():
        yield NewLine(item, DIFFERENCE, -Decimal(count), length_um=length_um)
        yield NewLine(item, USED, Decimal(count), length_um=length_um)


def _remnants_back(item: Item, taken: Taken[Place]) -> Iterable[NewLine]:
    for (place, length_um), count in taken.drops.items():
        yield NewLine(item, SHELF, Decimal(count), place, length_um=length_um)
        yield NewLine(item, USED, -Decimal(count), length_um=length_um)
    for length_um, count in taken.scrap.items():
        yield NewLine(item, SCRAP, Decimal(count), length_um=length_um)
        yield NewLine(item, USED, -Decimal(count), length_um=length_um)
