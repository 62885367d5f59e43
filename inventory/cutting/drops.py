"""Drops of one length that pile up, and what could be done so that they do not.

A roll of 100 ft cut at 88 in leaves 56 in every time; after a winter there is a heap of
them. The heap is read from the book, the proposals are worked out from the lengths.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from django.db.models import Q, Sum

from inventory.ledger.models import Balance, Condition, Entry, Line
from inventory.materials.models import Item, RecipeLine
from inventory.measures.lengths import (
    MICROMETRES_PER_FOOT,
    MICROMETRES_PER_INCH,
    Units,
    spell_length,
)
from inventory.places.models import Shop

FEWEST = 3  # drops of one length that make a heap
# What a supplier is likely to have as well, as shares of the length bought now.
OTHER_LENGTHS = ((1, 2), (3, 2), (2, 1))
MOST_SHOWN = 5
# A part so much longer or shorter is another part: an eighth of its length and no more.
OTHER_PIECE_SHARE = 8
# What a length is rounded to before it is proposed: an eighth of an inch, a millimetre.
FINEST = {Units.INCH: MICROMETRES_PER_INCH // 8, Units.MILLIMETRE: 1_000}


@dataclass(frozen=True, slots=True)
class PieceUse:
    """A length that a parts list takes of the metal."""

    name: str
    length_um: int
    is_in_use: bool


@dataclass(frozen=True, slots=True)
class Heap:
    """Drops of one length: how many lie there, came and went since, and what to do."""

    item: Item
    length_um: int
    lying: int
    came: int
    went: int
    proposals: tuple[str, ...]

    @property
    def metal_um(self) -> int:
        """All of them end to end."""
        return self.lying * self.length_um


def heaps_of(shop: Shop, since: datetime, item: Item | None = None) -> list[Heap]:
    """Drops that pile up, most metal first. 3 queries; empty when none do.

    A heap has at least three drops of one length, shorter than bought and no piece of a parts
    list in use, of which more came than went since.
    """
    flow = _flow(shop, since, item)
    uses = _uses(shop, item)
    found = []
    for row in _lying(shop, item):
        thing, length, lying = row
        came, went = flow.get((thing.pk, length), (0, 0))
        pieces = uses.get(thing.pk, [])
        is_piece = any(use.is_in_use and use.length_um == length for use in pieces)
        if lying >= FEWEST and came - went >= FEWEST and not is_piece:
            told = tuple(proposals(thing, length, pieces, shop.length_units))
            found.append(Heap(thing, length, lying, came, went, told))
    return sorted(found, key=lambda heap: (-heap.metal_um, heap.item.name))


def _lying(shop: Shop, item: Item | None) -> Iterator[tuple[Item, int, int]]:
    rows = Balance.objects.filter(
        item__shop=shop, item__kind=Item.Kind.METAL, condition=Condition.GOOD, quantity__gt=0
    ).select_related("item")
    sums: dict[tuple[Item, int], Decimal] = defaultdict(Decimal)
    for row in rows.filter(item=item) if item else rows:
        # Sticks as bought are no drops; nor is anything when nobody wrote down what is bought.
        if row.length_um < (row.item.bought_length_um or 0):
            sums[row.item, row.length_um] += row.quantity
    for (thing, length), quantity in sums.items():
        yield thing, length, int(quantity)


def _flow(shop: Shop, since: datetime, item: Item | None) -> dict[tuple[int, int], tuple[int, int]]:
    """Pieces of each length that making and cutting left and took. 1 query."""
    lines = Line.objects.filter(
        entry__shop=shop, entry__at__gte=since, account=Line.Account.SHELF,
        item__kind=Item.Kind.METAL, entry__correction__isnull=True,
        entry__kind__in=[Entry.Kind.MADE, Entry.Kind.CUT, Entry.Kind.USED, Entry.Kind.SCRAP],
    )  # fmt: skip
    if item:
        lines = lines.filter(item=item)
    rows = lines.order_by().values("item", "length_um")
    rows = rows.annotate(
        came=Sum("quantity", filter=Q(quantity__gt=0)),
        went=Sum("quantity", filter=Q(quantity__lt=0)),
    )
    return {
        (row["item"], row["length_um"]): (int(row["came"] or 0), -int(row["went"] or 0))
        for row in rows
    }


def _uses(shop: Shop, item: Item | None) -> dict[int, list[PieceUse]]:
    """Lengths that any parts list takes, those of other build sheets among them. 1 query."""
    lines = RecipeLine.objects.filter(recipe__shop=shop, length_um__gt=0)
    if item:
        lines = lines.filter(item=item)
    found: dict[int, list[PieceUse]] = defaultdict(list)
    for line in lines.select_related("recipe__output").order_by("-length_um", "pk"):
        recipe = line.recipe
        found[line.item_id].append(PieceUse(recipe.output.name, line.length_um, recipe.is_in_use))
    return found


def proposals(item: Item, drop_um: int, uses: Iterable[PieceUse], units: Units) -> list[str]:
    """What could be done about drops of this length, the simplest first. No queries."""
    pieces = list(uses)
    said = [*_fits(item, drop_um, pieces, units)]
    cause = _cause(item, drop_um, pieces)
    if cause is not None:
        said += _mixed(item, cause, pieces, units)
        said += _other_stock(item, cause, units)
        said += _other_piece(item, cause, units)
    if not said:
        said.append("No parts list takes this length: look for a part that could.")
    said = said[:MOST_SHOWN]
    said.append("Or write the length on them and keep them together for repairs.")
    return said


def _fits(item: Item, drop_um: int, pieces: list[PieceUse], units: Units) -> Iterator[str]:
    """Pieces that come off one drop."""
    for use in pieces:
        number = pieces_in(item, drop_um, use.length_um, is_drop=True)
        if number:
            where = "" if use.is_in_use else " (a parts list not in use now)"
            yield (
                f"Each gives {number} × {use.name}, {spell_length(use.length_um, units)}{where}: "
                "cut those from these first."
            )


def _cause(item: Item, drop_um: int, pieces: list[PieceUse]) -> PieceUse | None:
    """The piece in use that leaves this drop when a bought length is cut into nothing else."""
    whole = item.bought_length_um or 0
    for use in pieces:
        if use.is_in_use and left_of(item, whole, use.length_um) == drop_um:
            return use
    return None


def _mixed(item: Item, cause: PieceUse, pieces: list[PieceUse], units: Units) -> Iterator[str]:
    """The best mix with one other length from each bought length."""
    whole, best = item.bought_length_um or 0, None
    alone = left_of(item, whole, cause.length_um)
    for other in pieces:
        if other.length_um == cause.length_um:
            continue
        for many in range(pieces_in(item, whole, cause.length_um), 0, -1):
            rest = whole - item.trim_um - many * (cause.length_um + item.kerf_um)
            fits = (rest - item.trim_um + item.kerf_um) // (other.length_um + item.kerf_um)
            left = max(0, rest - fits * (other.length_um + item.kerf_um))
            if fits > 0 and left < alone and (best is None or left < best[0]):
                best = (left, many, fits, other)
    if best is not None:
        left, many, fits, other = best
        yield (
            f"Cut {many} × {cause.name} ({spell_length(cause.length_um, units)}) and {fits} × "
            f"{other.name} ({spell_length(other.length_um, units)}) from each: "
            f"{_leaves(left, units)}."
        )


def _other_stock(item: Item, cause: PieceUse, units: Units) -> Iterator[str]:
    """Another bought length that wastes a smaller share."""
    whole = item.bought_length_um or 0
    now = left_of(item, whole, cause.length_um)
    better = []
    for top, bottom in OTHER_LENGTHS:
        length = whole * top // bottom
        left = left_of(item, length, cause.length_um)
        # Shares compared without dividing, so without rounding.
        if pieces_in(item, length, cause.length_um) and left * whole < now * length:
            better.append((left * whole // length, length, left))
    if better:
        _, length, left = min(better)
        number = pieces_in(item, length, cause.length_um)
        yield (
            f"Ask for {_bought(length, units)} instead of {_bought(whole, units)}: "
            f"{number} × {cause.name}, {_leaves(left, units)}."
        )


def _other_piece(item: Item, cause: PieceUse, units: Units) -> Iterator[str]:
    """The piece length at which one more comes off, and the one that leaves nothing."""
    whole = item.bought_length_um or 0
    number = pieces_in(item, whole, cause.length_um)
    room = whole - 2 * item.trim_um + item.kerf_um
    for many in (number, number + 1):
        # Rounded down to what a tape shows: rounded up, the last piece would be too short.
        length = (room // many - item.kerf_um) // FINEST[units] * FINEST[units]
        apart = abs(length - cause.length_um)
        if length > 0 and 0 < apart * OTHER_PIECE_SHARE <= cause.length_um:
            kind = "longer" if length > cause.length_um else "shorter"
            left = left_of(item, whole, length)
            yield (
                f"If the build sheet allows {spell_length(length, units)}, {kind} than "
                f"{spell_length(cause.length_um, units)}, {many} come off each: "
                f"{_leaves(left, units)}."
            )


def _bought(length_um: int, units: Units) -> str:
    """A bought length as suppliers call it: whole feet where it is whole feet."""
    whole, rest = divmod(length_um, MICROMETRES_PER_FOOT)
    return spell_length(length_um, units) if rest or units is not Units.INCH else f"{whole} ft"


def _leaves(left_um: int, units: Units) -> str:
    return f"{spell_length(left_um, units)} is left" if left_um else "nothing is left"


def pieces_in(item: Item, whole_um: int, piece_um: int, *, is_drop: bool = False) -> int:
    """Pieces of one length that come off: the last one needs no cut."""
    room = whole_um - (1 if is_drop else 2) * item.trim_um + item.kerf_um
    return max(0, room) // (piece_um + item.kerf_um)


def left_of(item: Item, whole_um: int, piece_um: int) -> int:
    """What is left over when as many pieces as possible are cut off one bought length."""
    number = pieces_in(item, whole_um, piece_um)
    return max(0, whole_um - item.trim_um - number * (piece_um + item.kerf_um))
