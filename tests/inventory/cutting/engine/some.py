"""Cut lists that several tests look at, and hypothesis strategies for any."""

from __future__ import annotations

import random

from hypothesis import strategies as some

from inventory.cutting.engine.problem import CutProblem, Piece, Stick
from inventory.measures.lengths import feet, inches


def stems_and_bars(sets: int = 300, **changes: object) -> CutProblem:
    """34 in and 16 in from 20 ft, an eighth of an inch a cut."""
    raw: dict[str, object] = {
        "pieces": (Piece("stem", inches(34), sets), Piece("bar", inches(16), sets)),
        "sticks": (Stick("20 ft", feet(20)),),
        "kerf": inches("1/8"),
    }
    return CutProblem(**{**raw, **changes})  # type: ignore[arg-type]


def one_stick(length: int, *lengths: int, **rest: int | None) -> CutProblem:
    """Pieces of these lengths, one each, from one stick."""
    pieces = tuple(Piece(f"p{k}", size, 1) for k, size in enumerate(lengths))
    return CutProblem(pieces, (Stick("s", length, 1),), **rest)  # type: ignore[arg-type]


@some.composite
def problems(draw: some.DrawFn) -> CutProblem:
    """Small cut lists of every kind: scarce sticks, drops, remnants, parts of one length."""
    lengths = draw(some.lists(some.integers(3, 60), min_size=1, max_size=5))
    pieces = tuple(
        Piece(f"p{k}", size, draw(some.integers(0, 12)), draw(some.integers(0, 2)))
        for k, size in enumerate(lengths)
    )
    sticks = []
    for k in range(draw(some.integers(1, 4))):
        is_drop = draw(some.booleans())
        count = draw(some.integers(0, 8) if is_drop else some.none() | some.integers(0, 8))
        sticks.append(Stick(f"s{k}", draw(some.integers(5, 150)), count, None, is_drop))
    kerf = draw(some.integers(0, 3))
    trim = draw(some.sampled_from([0, kerf, kerf + 2]))
    keep = draw(some.none() | some.integers(1, 50))
    return CutProblem(pieces, tuple(sticks), kerf, trim, keep, draw(some.integers(0, 99)))


def shuffled(problem: CutProblem, seed: int) -> CutProblem:
    """The same list in another order."""
    draw = random.Random(seed)
    pieces, sticks = list(problem.pieces), list(problem.sticks)
    draw.shuffle(pieces)
    draw.shuffle(sticks)
    return CutProblem(
        tuple(pieces),
        tuple(sticks),
        problem.kerf,
        problem.trim,
        problem.keep_length,
        problem.keep_percent,
    )
