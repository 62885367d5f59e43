"""Which stick a piece is taken from when nobody followed a cut list: the best-fitting one.

::

    |trim|  piece  |k|      left over: a drop from keep_um on, else scrap      |

A bought stick loses the trim at both ends, a drop only at its far end. What one piece
leaves over may give the next piece of the same making.

A piece that lies cut to length is taken as it lies. Only when no stick and no drop is long
enough is a piece sawn up that was cut ahead for another part: at the rack people reach for a
stick first, and the book must not lose them last night's posts.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable
from dataclasses import dataclass, field
from typing import Generic, TypeVar

from inventory.materials.models import Item

P = TypeVar("P")  # a place, or whatever the caller calls one


@dataclass(frozen=True, slots=True)
class Saw:
    """What one material loses to the blade and at its ends; whole micrometres."""

    kerf_um: int
    trim_um: int
    keep_um: int
    bought_um: int | None

    @classmethod
    def of(cls, item: Item) -> Saw:
        """The saw as the item describes it."""
        return cls(item.kerf_um, item.trim_um, item.keep_um, item.bought_length_um)

    def start(self, length_um: int) -> int:
        """Where the first piece starts on a stick of that length."""
        # Nobody marks a drop as one: whatever is shorter than bought was sawn at one end.
        is_drop = self.bought_um is not None and length_um < self.bought_um
        return 0 if is_drop else self.trim_um


@dataclass(slots=True)
class Taken(Generic[P]):
    """Sticks that leave the rack, what goes back, what is thrown away, what was not there."""

    sticks: Counter[tuple[P, int]] = field(default_factory=Counter)
    drops: Counter[tuple[P, int]] = field(default_factory=Counter)
    scrap: Counter[int] = field(default_factory=Counter)
    missing: Counter[int] = field(default_factory=Counter)


@dataclass(slots=True)
class _Rack(Generic[P]):
    """What lies there by place and length, and which lengths are parts' own.

    A bought length is never one: sticks bought at the length of a part are sticks.
    """

    cut_ahead: frozenset[int | None]
    there: Counter[tuple[P, int]] = field(default_factory=Counter)


@dataclass(slots=True)
class _Remnant(Generic[P]):
    place: P
    length_um: int


def cut_from(
    saw: Saw,
    pieces: Iterable[int],
    lying: Iterable[tuple[P, int, int]],
    *,
    spare: P,
    cut_ahead: Collection[int] = (),
) -> Taken[P]:
    """Take the pieces, longest first, each from the shortest length it fits in.

    ``lying`` gives place, length and count; ``cut_ahead`` the lengths of parts, whose pieces
    are sawn up last of all. A piece that fits nowhere is cut from a stick that was not
    booked: it is counted as missing, and its remnant lies at ``spare``.
    """
    rack = _Rack[P](cut_ahead=frozenset(cut_ahead) - {saw.bought_um})
    for place, length_um, count in lying:
        rack.there[place, length_um] += count
    remnants: list[_Remnant[P]] = []
    taken = Taken[P]()
    # Longest first: a short piece still finds a place in what the long ones leave.
    for piece in sorted(pieces, reverse=True):
        _take(saw, piece, rack=rack, remnants=remnants, taken=taken, spare=spare)
    for remnant in remnants:
        # At least 1, or a club that keeps everything would book drops of no length.
        if remnant.length_um >= max(saw.keep_um, 1):
            taken.drops[remnant.place, remnant.length_um] += 1
        elif remnant.length_um:
            taken.scrap[remnant.length_um] += 1
    return taken


def _take(
    saw: Saw,
    piece: int,
    *,
    rack: _Rack[P],
    remnants: list[_Remnant[P]],
    taken: Taken[P],
    spare: P,
) -> None:
    """Cut one piece: what was begun is used before a stick of the same length."""
    begun, fresh = _begun(saw, piece, remnants), _fresh(saw, piece, rack)
    is_last_resort = fresh is not None and fresh[1] != piece and fresh[1] in rack.cut_ahead
    # The tightest fit wins; at a tie the one begun, which saves fetching another stick.
    if begun is not None and (fresh is None or begun.length_um <= fresh[1] or is_last_resort):
        # A piece that ends the remnant needs no cut, so the blade takes no more than is left.
        begun.length_um = max(0, begun.length_um - piece - saw.kerf_um)
        return
    if fresh is None:
        fresh = (spare, _unbooked(saw, piece))
        taken.missing[fresh[1]] += 1
    else:
        rack.there[fresh] -= 1
        taken.sticks[fresh] += 1
    # The remnant lies where the stick lay until somebody says that it was carried.
    place, length_um = fresh
    left = max(0, length_um - saw.start(length_um) - piece - saw.kerf_um)
    remnants.append(_Remnant(place, left))


def _begun(saw: Saw, piece: int, remnants: Iterable[_Remnant[P]]) -> _Remnant[P] | None:
    """The shortest remnant of this making that the piece fits in."""
    # One end was sawn just now, so only the far end is trimmed.
    long_enough = (part for part in remnants if part.length_um >= piece + saw.trim_um)
    return min(long_enough, key=lambda part: part.length_um, default=None)


def _fresh(saw: Saw, piece: int, rack: _Rack[P]) -> tuple[P, int] | None:
    """The piece itself, else the shortest stick or drop that it fits in, else another's piece."""
    long_enough = (
        spot
        for spot, count in rack.there.items()
        # A piece cut ahead is taken as it lies: no blade, so no trim either.
        if count > 0 and (spot[1] == piece or spot[1] >= saw.start(spot[1]) + piece + saw.trim_um)
    )
    return min(
        long_enough,
        key=lambda spot: (spot[1] != piece and spot[1] in rack.cut_ahead, spot[1]),
        default=None,
    )


def _unbooked(saw: Saw, piece: int) -> int:
    """The length of a stick that nobody booked: as bought, or just long enough."""
    enough = piece + 2 * saw.trim_um
    return max(saw.bought_um or 0, enough)
