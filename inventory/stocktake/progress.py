"""How far a count sheet has come, and what is to be done with it next."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from inventory.stocktake.comparing import Compared
from inventory.stocktake.models import CountSheet, Look, Turn


class State(StrEnum):
    """Where a sheet stands, in the words of the page."""

    NOT_BEGUN = "not counted yet"
    ONE_COUNTS = "being counted"
    ONCE = "counted once"
    LOOK_AGAIN = "third look owed"
    TWICE = "counted twice"
    POSTED = "posted"


@dataclass(frozen=True, slots=True)
class Progress:
    """A sheet with its compared lines. No query: everything was loaded before."""

    sheet: CountSheet
    lines: tuple[Compared, ...]

    def look(self, turn: int) -> Look | None:
        """The look of a turn, begun or done."""
        return next((look for look in self.sheet.looks.all() if look.turn == turn), None)

    @property
    def first(self) -> Look | None:
        """The first count."""
        return self.look(Turn.FIRST)

    @property
    def second(self) -> Look | None:
        """The second count."""
        return self.look(Turn.SECOND)

    @property
    def third(self) -> Look | None:
        """The third look."""
        return self.look(Turn.THIRD)

    @property
    def is_counted_twice(self) -> bool:
        """Whether both counts are done, so that they may be held against each other."""
        return all(look is not None and look.done_at for look in (self.first, self.second))

    @property
    def owed(self) -> list[Compared]:
        """Lines that need a third look."""
        return [row for row in self.lines if row.owes_a_look] if self.is_counted_twice else []

    @property
    def off(self) -> list[Compared]:
        """Lines whose standing count is not what the book said."""
        return [row for row in self.lines if row.off]

    @property
    def not_looked_at(self) -> list[Compared]:
        """Lines nobody counted; the book is left as it is there."""
        return [row for row in self.lines if not row.is_looked_at]

    @property
    def state(self) -> State:
        """Where the sheet stands."""
        done = [look for look in (self.first, self.second) if look and look.done_at]
        if self.sheet.posted_at:
            return State.POSTED
        if len(done) < 2:
            begun = State.ONE_COUNTS if self.sheet.looks.all() else State.NOT_BEGUN
            return State.ONCE if done else begun
        return State.LOOK_AGAIN if self.owed else State.TWICE
