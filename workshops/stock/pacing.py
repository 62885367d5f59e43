"""Leafing through a long book: the next leaf starts below the last row seen.

Counting a million lines to say “leaf 7 of 20,000” would cost more than the page itself.
"""

from __future__ import annotations

from dataclasses import dataclass

from django.db.models import QuerySet

from inventory.ledger.models import Line

LEAF = 40


@dataclass(frozen=True, slots=True)
class Leaf:
    """Some lines, newest first; ``before`` leads on and is ``None`` at the end."""

    lines: tuple[Line, ...]
    before: int | None


def leaf_before(lines: QuerySet[Line], before: str) -> Leaf:
    """The lines written before the one of that number; the newest without one. 1 query."""
    if before.isdecimal():
        lines = lines.filter(pk__lt=int(before))
    found = list(lines[: LEAF + 1])
    more = found[LEAF - 1].pk if len(found) > LEAF else None
    return Leaf(tuple(found[:LEAF]), more)
