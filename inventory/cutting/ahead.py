"""Pieces that lie cut to length already: taken first, and never sawn up for others."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from inventory.materials.models import Item
from inventory.materials.queries import lengths_in_use
from inventory.measures.lengths import Units, spell_length

# what it is called, how long, how many
Wanted = tuple[str, int, int]


@dataclass(frozen=True, slots=True)
class Sorted:
    """What is still to be cut, from what, and what lies there ready."""

    pieces: list[Wanted]
    rack: list[tuple[int, int]]
    ready: list[Wanted]


def sort_out(
    item: Item,
    pieces: Sequence[Wanted],
    rack: Iterable[tuple[int, int]],
    *,
    takes_ready: bool,
) -> Sorted:
    """Split the rack into sticks to cut and pieces cut ahead. 1 query.

    A length that a piece has is a piece and no drop: sawing last night's 34 in posts up
    for 16 in bars would undo the work. With ``takes_ready`` such pieces meet what is wanted.
    """
    there = dict(rack)
    ready: list[Wanted] = []
    left: list[Wanted] = []
    for label, length, count in pieces:
        used = min(count, there.get(length, 0)) if takes_ready else 0
        if used:
            there[length] -= used
            ready.append((label, length, used))
        if count > used:
            left.append((label, length, count - used))
    # Sticks bought at the length of a piece are sticks like any other.
    in_use = lengths_in_use([item.pk])[item.pk]
    cut_to = ({length for _, length, _ in pieces} | in_use) - {item.bought_length_um}
    sticks = [(length, n) for length, n in there.items() if n and length not in cut_to]
    return Sorted(left, sticks, ready)


def sentences(ready: Iterable[Wanted], units: Units) -> list[str]:
    """One sentence for each kind of piece that lies there ready."""
    return [_sentence(label, spell_length(length, units), count) for label, length, count in ready]


def _sentence(label: str, length: str, count: int) -> str:
    if count == 1:
        return f"1 × {label} ({length}) lies cut to length already: take it first."
    return f"{count} × {label} ({length}) lie cut to length already: take them first."
