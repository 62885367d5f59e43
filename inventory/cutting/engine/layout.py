"""From patterns to the sheet at the saw: which part is which, in which order, at which marks."""

from __future__ import annotations

import random
from dataclasses import dataclass

from inventory.cutting.engine.model import Figures, Taken
from inventory.cutting.engine.plan import Cut, Run

MOST_RUNS = 60  # above it the order is only strung together, not improved
Settings = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """One stick's cuts by label before they have marks."""

    stick: int
    labels: tuple[str, ...]  # in order of label position, one for each piece


def runs_of(figures: Figures, taken: Taken, *, tries: int, seed: int) -> tuple[Run, ...]:
    """The runs in an order that sets the stop block seldom.

    Sticks cut alike make one run: the stop is set, one length is cut off all of them, then
    the next. So a run costs as many settings as it has lengths, one less when it begins with
    the length at which the run before ended.
    """
    sheets = _dealt(figures, taken)
    lengths = {piece.label: piece.length for piece in figures.problem.pieces}
    keys = list(sheets)
    sets = [tuple(sorted({lengths[label] for label in key.labels}, reverse=True)) for key in keys]
    order = _ordered(sets, tries=tries, seed=seed)
    _, chosen = _settings([sets[k] for k in order])
    return tuple(
        _run(figures, keys[k], sheets[keys[k]], settings)
        for k, settings in zip(order, chosen, strict=True)
    )


def _dealt(figures: Figures, taken: Taken) -> dict[Sheet, int]:
    """Give every piece of a size its label: parts of one length share their patterns."""
    problem = figures.problem
    waiting: list[list[tuple[str, int]]] = [
        [(p.label, p.count) for p in problem.pieces if p.count and p.length + problem.kerf == size]
        for size in figures.sizes
    ]
    sheets: dict[Sheet, int] = {}
    for pattern, times in sorted(taken.items(), key=lambda part: (part[0].stick, part[0].counts)):
        left = times
        while left:
            labels, alike = _next_alike(waiting, pattern.counts, left)
            sheet = Sheet(pattern.stick, labels)
            sheets[sheet] = sheets.get(sheet, 0) + alike
            left -= alike
    return sheets


def _next_alike(
    waiting: list[list[tuple[str, int]]], counts: tuple[int, ...], left: int
) -> tuple[tuple[str, ...], int]:
    """Labels for the next sticks of a pattern, and how many of these can be labelled alike."""
    alike = left
    for queue, count in zip(waiting, counts, strict=True):
        if count and queue[0][1] >= count:
            alike = min(alike, queue[0][1] // count)
        elif count:
            alike = 1  # this stick finishes one label and begins the next
    labels: list[str] = []  # of one of the sticks; all of them when alike is 1
    for queue, count in zip(waiting, counts, strict=True):
        owed = count * alike
        while owed:
            label, there = queue.pop(0)
            used = min(owed, there)
            labels += [label] * (used // alike if alike > 1 else used)
            owed -= used
            if there > used:
                queue.insert(0, (label, there - used))
    return tuple(labels), alike


def _run(figures: Figures, sheet: Sheet, times: int, settings: Settings) -> Run:
    problem, stick = figures.problem, figures.sticks[sheet.stick]
    lengths = {piece.label: piece.length for piece in problem.pieces}
    at, cuts = problem.start(stick), []
    for label in sorted(sheet.labels, key=lambda label: (settings.index(lengths[label]), label)):
        cuts.append(Cut(label, at, at + lengths[label]))
        at += lengths[label] + problem.kerf
    left = problem.left_over(stick, at - problem.start(stick))
    return Run(stick.label, stick.length, times, tuple(cuts), left, problem.is_kept(left))


def _ordered(sets: list[Settings], *, tries: int, seed: int) -> list[int]:
    """An order of the runs: strung together by common lengths, then improved by moves."""
    order = _strung(sets)
    if len(sets) > MOST_RUNS:
        return order
    # moves of one run at a time, level ones too: they lead off plateaus
    best, _ = _settings([sets[k] for k in order])
    # A draw of its own: no other user of chance changes the order of a sheet.
    draw = random.Random(seed)
    for _ in range(tries if len(order) > 2 else 0):
        moved = order.copy()
        moved.insert(draw.randrange(len(order)), moved.pop(draw.randrange(len(order))))
        changes, _ = _settings([sets[k] for k in moved])
        if changes <= best:
            order, best = moved, changes
    return order


def _strung(sets: list[Settings]) -> list[int]:
    """The run with the longest piece first, then always the one sharing most with the last."""
    left = sorted(range(len(sets)), key=lambda k: sets[k], reverse=True)
    order = left[:1]
    left = left[1:]
    while left:
        last = set(sets[order[-1]])
        nearest = max(left, key=lambda k: (len(last & set(sets[k])) > 0, -len(sets[k]), sets[k]))
        order.append(nearest)
        left.remove(nearest)
    return order


def _settings(sets: list[Settings]) -> tuple[int, list[Settings]]:
    """Fewest settings for this order, and each run's lengths in the order that gives them.

    Looks only at where the stop stands when a run ends: the best count for each such length.
    """
    states: dict[int, tuple[int, list[Settings]]] = {0: (0, [])}
    for lengths in sets:
        after: dict[int, tuple[int, list[Settings]]] = {}
        for stop, (changes, chosen) in states.items():
            first = stop if stop in lengths else None
            for last in reversed(lengths):  # of equals, the one that cuts the longest first
                if last == first and len(lengths) > 1:
                    continue  # the stop cannot begin and end a run at one of several lengths
                # a length the stop already stands at needs no setting
                count = changes + len(lengths) - (first is not None)
                if last not in after or count < after[last][0]:
                    after[last] = (count, [*chosen, _between(lengths, first, last)])
        states = after
    return min(states.values(), key=lambda state: state[0])


def _between(lengths: Settings, first: int | None, last: int) -> Settings:
    middle = tuple(length for length in lengths if length not in (first, last))
    if first is None or first == last:
        return (*middle, last)
    return (first, *middle, last)
