"""An entry of the book as people tell it: what left or came to which place, and why."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from inventory.ledger.models import Entry, Line

Thing = tuple[int, int]  # an item and a length


@dataclass(frozen=True, slots=True)
class Told:
    """One line of an entry; ``beyond`` is where it went or came from, empty between places."""

    line: Line
    beyond: str


def told(entry: Entry) -> list[Told]:
    """The entry's lines without those that only balance another. No queries beyond its lines.

    The book writes everything twice, so that it adds up. A storekeeper asks what changed on a
    shelf; of things that touched no shelf, such as short ends, only where they went is told.
    """
    lines = list(entry.lines.all())
    shelved = {_thing(line) for line in lines if line.place_id}
    kept = [line for line in lines if line.place_id or _ends_nowhere(line, shelved)]
    return [Told(line, _beyond(line, lines)) for line in kept]


def _thing(line: Line) -> Thing:
    return line.item_id, line.length_um


def _ends_nowhere(line: Line, shelved: Iterable[Thing]) -> bool:
    return _thing(line) not in shelved and line.quantity > 0


def _beyond(line: Line, lines: Sequence[Line]) -> str:
    if not line.place_id:
        return ""
    others = [
        other.get_account_display()
        for other in lines
        if not other.place_id
        and _thing(other) == _thing(line)
        and (other.quantity > 0) != (line.quantity > 0)
    ]
    return ", ".join(dict.fromkeys(others))
