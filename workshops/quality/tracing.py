"""Where pieces went that are no longer on their rack: pure counting, no query.

First made, first used: of so many suspected pieces that are gone, those that were taken
last are counted first, as the book itself counts where things came from. It is the most
that the book can say; which piece went into which head, nobody wrote down.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Taking:
    """One entry that took pieces: how many, where to, and how many things it made of them.

    ``item`` is what was made of them, by id; none where nothing was.
    """

    pieces: int
    where: str
    made: int = 0
    item: int | None = None


@dataclass(frozen=True, slots=True)
class Gone:
    """So many suspected pieces that went to one place.

    ``count`` is how many of ``item`` may have one in them, 0 where nothing was made.
    """

    where: str
    pieces: int
    count: int = 0
    item: int | None = None


UNKNOWN = "not to be found in the book: look for them"


def trace(takings: Iterable[Taking], gone: int) -> list[Gone]:
    """Where ``gone`` pieces went, the latest takings first; what no taking explains comes last.

    The pieces of the answer always add up to ``gone``.
    """
    found: dict[tuple[str, int | None], tuple[int, int]] = {}
    left = gone
    for taking in takings:
        if left <= 0:
            break
        part = min(left, taking.pieces)
        # A head with one bad rod of two is a head to look at: rounded up.
        count = -(-taking.made * part // taking.pieces)
        pieces, counted = found.get((taking.where, taking.item), (0, 0))
        found[taking.where, taking.item] = (pieces + part, counted + count)
        left -= part
    answer = [Gone(where, *sums, item) for (where, item), sums in found.items()]
    return answer + ([Gone(UNKNOWN, left)] if left > 0 else [])
