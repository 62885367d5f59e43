"""Two counts of one thing held against each other and against the book of their moments.

Counts are not compared as they stand: between the first and the second something may have
been carried off. They agree when both are out from the book of their moments by as much.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from inventory.places.models import Place
from inventory.stocktake.book_then import BookThen, spot_of
from inventory.stocktake.models import CountLine, Turn


@dataclass(frozen=True, slots=True)
class Seen:
    """One count: how many, when, and what the book had then."""

    turn: Turn
    count: Decimal
    at: datetime
    booked: Decimal

    @property
    def off(self) -> Decimal:
        """Counted less booked, as of the moment."""
        return self.count - self.booked


@dataclass(frozen=True, slots=True)
class Compared:
    """A line with its counts, and which of them stands."""

    line: CountLine
    seen: tuple[Seen, ...]

    @property
    def is_looked_at(self) -> bool:
        """Whether anybody counted it; otherwise the book is left alone."""
        return bool(self.seen)

    @property
    def stands(self) -> Seen | None:
        """The count that is posted; ``None`` while a third look is owed or nobody looked."""
        line = self.line
        # As it was written when the sheet was posted: the book has moved on since.
        if line.agreed is not None and line.agreed_at is not None and line.booked is not None:
            turn = Turn.SECOND if line.third is None else Turn.THIRD
            return Seen(turn, line.agreed, line.agreed_at, line.booked)
        by_turn = {seen.turn: seen for seen in self.seen}
        if Turn.THIRD in by_turn:
            return by_turn[Turn.THIRD]
        first, second = by_turn.get(Turn.FIRST), by_turn.get(Turn.SECOND)
        if first and second and first.off == second.off:
            return second
        return None

    @property
    def owes_a_look(self) -> bool:
        """Whether the two differ, or one alone looked, or somebody doubts what stands."""
        return self.is_looked_at and (self.line.is_doubted or self.stands is None)

    @property
    def off(self) -> Decimal:
        """Counted less booked where a count stands, else nothing."""
        return self.stands.off if self.stands else Decimal()

    def of(self, turn: int) -> Seen | None:
        """The count of one turn."""
        return next((seen for seen in self.seen if seen.turn == turn), None)

    @property
    def first(self) -> Seen | None:
        """The first count."""
        return self.of(Turn.FIRST)

    @property
    def second(self) -> Seen | None:
        """The second, blind count."""
        return self.of(Turn.SECOND)

    @property
    def third(self) -> Seen | None:
        """The third look."""
        return self.of(Turn.THIRD)


def compare(lines: Iterable[CountLine], place: Place, book: BookThen) -> list[Compared]:
    """Each line with its counts against the book of their moments. No query."""
    return [_compared(line, place, book) for line in lines]


def _compared(line: CountLine, place: Place, book: BookThen) -> Compared:
    spot = spot_of(line, place)
    seen = [
        Seen(Turn(turn), found[0], found[1], book.at(spot, found[1]))
        for turn in Turn
        if (found := line.seen(turn))
    ]
    return Compared(line, tuple(seen))
