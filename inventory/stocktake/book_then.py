"""What the book said at the moment of a count, known today.

The rule. Nobody stops work for a stocktake, so a count is true of the moment at which it
was taken and is compared with the book as of that moment:

    book then = balance now - everything that happened after that moment

*Happened* is the entry's ``at``, whenever it was typed in (``recorded_at``): what was used
before the count and is typed in after it has left the shelf that was counted, so it counts
as before. Something at the very moment counts as before too. A correction says that an
entry never happened, so it stands at the time of the entry that it takes back.

The difference is counted less book then, and it is posted *at that moment*. So the book as
of the moment is the count, and stays so: when something earlier is typed in later still,
the book as of the moment is out by just that much, and a settling entry takes it back.
Hence, whatever the order of typing, the balance is what was counted and what moved since.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal

from django.db.models import Q

from inventory.ledger.models import Balance, Line
from inventory.places.models import Place
from inventory.stocktake.models import CountLine

# item, place, condition, length
Spot = tuple[int, int, str, int]


@dataclass(frozen=True, slots=True)
class BookThen:
    """Balances now, and what moved since some moment, by spot."""

    now: dict[Spot, Decimal] = field(default_factory=dict)
    since: dict[Spot, list[tuple[datetime, Decimal]]] = field(default_factory=dict)

    def at(self, spot: Spot, moment: datetime) -> Decimal:
        """How many the book had there at the moment, as it is known now. No query."""
        later = (quantity for at, quantity in self.since.get(spot, ()) if at > moment)
        return self.now.get(spot, Decimal()) - sum(later, Decimal())


def spot_of(line: CountLine, place: Place) -> Spot:
    """Where the balance of a count line is kept."""
    return (line.item_id, place.pk, line.condition, line.length_um)


def book_then(places: Sequence[Place], lines: Iterable[CountLine]) -> BookThen:
    """The book of the places as far back as the earliest count in the lines. 2 queries.

    Without a count 1 query.
    """
    now = {
        (row.item_id, row.place_id, row.condition, row.length_um): row.quantity
        for row in Balance.objects.filter(place__in=places)
    }
    moments = [seen[1] for line in lines for turn in (1, 2, 3) if (seen := line.seen(turn))]
    moments += [line.agreed_at for line in lines if line.agreed_at]
    return BookThen(now, _since(places, min(moments)) if moments else {})


def _since(places: Sequence[Place], moment: datetime) -> dict[Spot, list[tuple[datetime, Decimal]]]:
    """What moved after the moment, each with when it happened. 1 query."""
    rows = Line.objects.filter(
        # The mirror image may be typed in long after what it takes back.
        Q(entry__at__gt=moment) | Q(entry__corrects__at__gt=moment),
        account=Line.Account.SHELF,
        place__in=places,
    ).order_by()
    moved: dict[Spot, list[tuple[datetime, Decimal]]] = defaultdict(list)
    for item, place, condition, length, at, corrected_at, quantity in rows.values_list(
        "item", "place", "condition", "length_um", "entry__at", "entry__corrects__at", "quantity"
    ):
        if place is not None:
            moved[item, place, condition, length].append((corrected_at or at, quantity))
    return moved
