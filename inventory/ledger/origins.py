"""Where the pieces on the shelves came from: first in, first out, through making too.

What lies there now is what came last. Counted back from now, the newest piece that ever
came is number 0; the pieces there are the first so many of them, and those that an entry
took are the next after all that were taken later. So only as much of the book is read as
the answer needs, however long it is.

An entry that was taken back never happened, nor did its mirror image. What was carried,
held or released stays what it is. What came back from the marsh came where what was last
set out of it had come from.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from itertools import groupby

from inventory.ledger.models import Balance, Entry, Line
from inventory.materials.models import Item

SHELF, DIFFERENCE = Line.Account.SHELF, Line.Account.DIFFERENCE
# Where a trace ends: with what was delivered, and with what a count found.
ENDS = (Entry.Kind.GOODS_IN, Entry.Kind.COUNTED)
PART = 500  # lines read at a time

# Pieces of an item and length that came with an entry.
Arrival = tuple[int, int, int]
# The entry that a trace ends with, and the item that it brought.
End = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Source:
    """A delivery, or a count that found something; ``item`` is what it brought."""

    entry: Entry
    item: Item


@dataclass(frozen=True, slots=True)
class Batch:
    """Pieces that are there now and came together, with the deliveries behind them."""

    quantity: Decimal
    length_um: int
    entry: Entry
    sources: tuple[Source, ...]

    @property
    def was_made(self) -> bool:
        """Whether they were made here and not brought."""
        return self.entry.kind not in ENDS


@dataclass(frozen=True, slots=True)
class Origins:
    """The batches that were asked for, newest first, and how many older ones there are."""

    batches: tuple[Batch, ...]
    more: int = 0


def origins_of(item: Item, most: int | None = None) -> Origins:
    """What is there of the item by the entry it came with, newest first; empty when none is.

    Of the newest ``most`` batches alone it is asked what stands behind them: a rack of parts
    made on two hundred nights is traced as quickly as one of twenty. Some five queries for
    bought things, and two or three a level for made ones.
    """
    tracer = _Tracer()
    there = Balance.objects.filter(item=item, quantity__gt=0).order_by("-length_um")
    arrived: dict[Arrival, Decimal] = {}
    for length_um, quantity in _by_length(there):
        for entry, part in tracer.history(item.pk).arrived(length_um, Decimal(), quantity):
            arrived[entry, item.pk, length_um] = part
    found = dict(list(arrived.items())[:most])
    tracer.follow(list(found))
    ends = {arrival: tracer.ends(arrival) for arrival in found}
    reached = set[End]().union(*ends.values())
    entries = Entry.objects.select_related("goods_in", "by").in_bulk(
        {arrival[0] for arrival in found} | {entry for entry, _ in reached}
    )
    items = Item.objects.in_bulk({brought for _, brought in reached})

    def batch(arrival: Arrival, quantity: Decimal) -> Batch:
        sources = (Source(entries[entry], items[each]) for entry, each in sorted(ends[arrival]))
        return Batch(quantity, arrival[2], entries[arrival[0]], tuple(sources))

    batches = tuple(batch(arrival, quantity) for arrival, quantity in found.items())
    return Origins(batches, len(arrived) - len(found))


def _by_length(balances: Iterable[Balance]) -> Iterator[tuple[int, Decimal]]:
    for length_um, rows in groupby(balances, key=lambda row: row.length_um):
        yield length_um, sum((row.quantity for row in rows), Decimal())


@dataclass(slots=True)
class _Flow:
    """What came and went of one length, each with its numbers counted back from now."""

    came: list[tuple[int, Decimal, Decimal]] = field(default_factory=list)
    went: dict[int, tuple[Decimal, Decimal]] = field(default_factory=dict)
    all_came: Decimal = Decimal()
    all_went: Decimal = Decimal()

    def note(self, entry: int, net: Decimal) -> None:
        """Go one entry back in time."""
        if net > 0:
            self.came.append((entry, self.all_came, self.all_came + net))
            self.all_came += net
        else:
            self.went[entry] = (self.all_went, self.all_went - net)
            self.all_went -= net


class _History:
    """One item's book, read from its end as far as it is asked for."""

    def __init__(self, item: int) -> None:
        self._flows: dict[int, _Flow] = defaultdict(_Flow)
        self._rest = groupby(_shelf_lines(item), key=lambda line: line[1])
        there = Balance.objects.filter(item=item, quantity__gt=0).order_by()
        rows = there.values_list("length_um", "quantity")
        self._there: dict[int, Decimal] = defaultdict(Decimal)
        for length_um, quantity in rows:
            self._there[length_um] += quantity

    def _read_on(self) -> bool:
        """One entry further back; whether there was one."""
        for entry, lines in self._rest:
            nets: dict[int, Decimal] = defaultdict(Decimal)
            for _, _, length_um, quantity in lines:
                nets[length_um] += quantity
            for length_um, net in nets.items():
                # What was only carried comes to nothing.
                if net:
                    self._flows[length_um].note(entry, net)
            return True
        return False

    def arrived(self, length_um: int, start: Decimal, stop: Decimal) -> list[tuple[int, Decimal]]:
        """Which entries brought the pieces of these numbers, newest first, and how many each."""
        flow = self._flows[length_um]
        while flow.all_came < stop and self._read_on():
            pass
        return [
            (entry, min(stop, last) - max(start, first))
            for entry, first, last in flow.came
            if first < stop and last > start
        ]

    def behind(self, length_um: int, entry: int) -> list[tuple[int, Decimal]]:
        """Which entries brought what this entry took."""
        flow = self._flows[length_um]
        while entry not in flow.went and self._read_on():
            pass
        first, last = flow.went.get(entry, (Decimal(), Decimal()))
        there = self._there[length_um]
        return self.arrived(length_um, there + first, there + last)


def _shelf_lines(item: int) -> Iterator[tuple[int, int, int, Decimal]]:
    """Lines that stand, last written first: number, entry, length, quantity."""
    lines = Line.objects.filter(
        item=item, account=SHELF, entry__correction__isnull=True, entry__corrects__isnull=True
    )
    rows = lines.order_by("-pk").values_list("pk", "entry", "length_um", "quantity")
    part = list(rows[:PART])
    while part:
        yield from part
        part = list(rows.filter(pk__lt=part[-1][0])[:PART]) if len(part) == PART else []


class _Tracer:
    """Follows pieces back, all of one level with one question to the database."""

    def __init__(self) -> None:
        self._histories: dict[int, _History] = {}
        self._behind: dict[Arrival, tuple[list[Arrival], list[End]]] = {}

    def history(self, item: int) -> _History:
        """The item's book."""
        if item not in self._histories:
            self._histories[item] = _History(item)
        return self._histories[item]

    def follow(self, arrivals: Sequence[Arrival]) -> None:
        """Find what stands behind the pieces, and behind that, down to the deliveries."""
        while arrivals:
            taken = _taken({entry for entry, _, _ in arrivals})
            for arrival in arrivals:
                self._behind[arrival] = self._before(arrival, taken[arrival[0]])
            further = (each for arrival in arrivals for each in self._behind[arrival][0])
            arrivals = [each for each in dict.fromkeys(further) if each not in self._behind]

    def _before(self, arrival: Arrival, taken: _Taken) -> tuple[list[Arrival], list[End]]:
        entry, item, length_um = arrival
        if taken.kind == Entry.Kind.RETURNED:
            out = _set_out_before(entry, item, length_um)
            back = self._brought(item, length_um, out) if out else []
            return back, [] if back else [(entry, item)]
        # A drop comes from its own stick; anything else from all that the entry took.
        own = {item} if item in taken.items else taken.items
        if taken.kind in ENDS or not own:
            return [], [(entry, item)]
        before = [
            arrived
            for each, length in taken.shelves
            if each in own
            for arrived in self._brought(each, length, entry)
        ]
        return before, [(entry, each) for each in taken.missed if each in own]

    def _brought(self, item: int, length_um: int, entry: int) -> list[Arrival]:
        """What brought the pieces that the entry took."""
        history = self.history(item)
        return [(source, item, length_um) for source, _ in history.behind(length_um, entry)]

    def ends(self, arrival: Arrival) -> set[End]:
        """The deliveries and counts that the pieces lead to."""
        seen, waiting, found = {arrival}, [arrival], set[End]()
        while waiting:
            before, ends = self._behind[waiting.pop()]
            found.update(ends)
            fresh = [each for each in before if each not in seen]
            seen.update(fresh)
            waiting += fresh
        return found


@dataclass(slots=True)
class _Taken:
    """What an entry took: from shelves by item and length, and what it missed there."""

    kind: str = ""
    shelves: list[tuple[int, int]] = field(default_factory=list)
    missed: set[int] = field(default_factory=set)

    @property
    def items(self) -> set[int]:
        """Everything it took of."""
        return {item for item, _ in self.shelves} | self.missed


def _taken(entries: set[int]) -> dict[int, _Taken]:
    """What the entries took. 1 query."""
    lines = Line.objects.filter(entry__in=entries, account__in=(SHELF, DIFFERENCE)).order_by()
    nets: dict[tuple[int, str, str, int, int], Decimal] = defaultdict(Decimal)
    # Added here: SQLite adds decimals as floats, and what was only carried would not be nothing.
    for *key, quantity in lines.values_list(
        "entry", "entry__kind", "account", "item", "length_um", "quantity"
    ):
        nets[tuple(key)] += quantity  # type: ignore[index]
    found: dict[int, _Taken] = defaultdict(_Taken)
    for (entry, kind, account, item, length_um), net in nets.items():
        taken = found[entry]
        taken.kind = kind
        if net < 0 and account == SHELF:
            taken.shelves.append((item, length_um))
        elif net < 0:
            taken.missed.add(item)
    return found


def _set_out_before(entry: int, item: int, length_um: int) -> int | None:
    """The entry by which such things were last set out in the marsh before that one."""
    lines = Line.objects.filter(
        item=item, account=Line.Account.OUTSIDE, length_um=length_um, entry__lt=entry,
        entry__kind=Entry.Kind.SET_OUT, entry__correction__isnull=True,
    )  # fmt: skip
    return lines.order_by("-entry").values_list("entry", flat=True).first()
