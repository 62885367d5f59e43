"""The least cost of tiny cut lists by trying everything; shares no line with the engine.

Pieces are laid along sticks and measured; no totals, prices or patterns of the engine are used.
"""

from __future__ import annotations

import random
from functools import cache
from itertools import product

from inventory.cutting.engine.problem import CutProblem, Piece, Stick

Counts = tuple[int, ...]


def least_cost(problem: CutProblem) -> tuple[int, int]:
    """Least metal missing, then least cost: every way to cut every stick is tried."""
    pieces = [piece for piece in problem.pieces if piece.count]
    wanted = tuple(piece.count for piece in pieces)
    lengths = [piece.length for piece in pieces]

    @cache
    def best(kind: int, used: int, left: Counts) -> tuple[int, int]:
        if kind == len(problem.sticks) or not any(left):
            metal = sum(n * (size + problem.kerf) for n, size in zip(left, lengths, strict=True))
            return metal, 0
        stick, found = problem.sticks[kind], best(kind + 1, 0, left)
        if stick.count is not None and used == stick.count:
            return found
        for cut in product(*(range(n + 1) for n in left)):
            cost = cost_of_stick(problem, stick, lengths, cut)
            if any(cut) and cost is not None:
                rest = tuple(n - c for n, c in zip(left, cut, strict=True))
                metal, more = best(kind, used + 1, rest)
                found = min(found, (metal, more + cost))
        return found

    return best(0, 0, wanted)


def cost_of_stick(problem: CutProblem, stick: Stick, lengths: list[int], cut: Counts) -> int | None:
    """What one stick costs cut like this, less what its remnant is worth; ``None``: no room."""
    at = 0 if stick.is_drop else problem.trim
    for length in (size for size, n in zip(lengths, cut, strict=True) for _ in range(n)):
        if at + length > stick.length - problem.trim:
            return None
        at += length + problem.kerf
    remnant = stick.length - at
    metal = stick.length * problem.keep_percent // 100 if stick.is_drop else stick.length
    cost = metal if stick.cost is None else stick.cost
    if problem.keep_length is None or remnant < problem.keep_length:
        return cost
    percent = 100 if stick.is_drop else problem.keep_percent
    return cost - cost * remnant * percent // (100 * stick.length)


def tiny_problem(draw: random.Random) -> CutProblem:
    """Up to 3 lengths and 7 pieces; sticks scarce or plenty, drops, kerf, trim, remnants kept."""
    kerf = draw.choice([0, 0, 1, 2])
    lengths = draw.sample(range(3, 15), draw.randint(1, 3))
    counts = [draw.randint(1, 3) for _ in lengths]
    costs = draw.random() < 0.3
    sticks = []
    for k in range(draw.randint(1, 3)):
        is_drop = draw.random() < 0.4
        count = draw.randint(0, 3) if is_drop or draw.random() < 0.5 else None
        cost = draw.randint(1, 20) if costs else None
        sticks.append(Stick(f"s{k}", draw.randint(8, 30), count, cost, is_drop))
    return CutProblem(
        tuple(
            Piece(f"p{k}", size, n) for k, (size, n) in enumerate(zip(lengths, counts, strict=True))
        ),
        tuple(sticks),
        kerf=kerf,
        trim=draw.choice([0, kerf, kerf + 1]),
        keep_length=draw.choice([None, 4, 8]),
        keep_percent=draw.choice([50, 80, 99]),
    )
