"""Jobs off the floor for whoever has no place: given out last, because they cost no work.

They are not in the programme: a job that anybody may do and that makes nothing says nothing
about the best plan, and its many equal columns made the search several times slower.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from workshops.nights.engine import model_gates as gates
from workshops.nights.engine.board import Board
from workshops.nights.engine.people import Person
from workshops.nights.engine.placings import Placing
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.rules import breaches_of
from workshops.nights.engine.stations import Station


def with_jobs(board: Board) -> Board:
    """The board with a job for each who is here in a block, may do one and has no place.

    Whoever had a job in the plan that people know, or in the block before, keeps it. A job
    against a rule (a minor with nobody free to look after them) is not given.
    """
    if not board.problem.spare_jobs:
        return board
    given: list[Placing] = []
    for block in range(len(board.problem.blocks)):
        given += _given(board, block, given)
    was = set(breaches_of(board))
    while given:
        filled = Board(board.problem, (*board.placings, *given), board.watch, board.made)
        new = [each for each in breaches_of(filled) if each not in was]
        if not new:
            return filled
        hit = {(person, each.block) for each in new for person in each.people}
        left = [each for each in given if (each.person, each.block) not in hit]
        # A breach that names nobody given a job is not theirs: then none is given.
        given = left if len(left) < len(given) else []
    return board


def _given(board: Board, block: int, before: Iterable[Placing]) -> list[Placing]:
    problem, span = board.problem, board.problem.blocks[block]
    busy = {stint.person.id for stint in board.by_block.get(block, [])}
    kept = {each.person: each.station for each in before if each.block == block - 1}
    kept |= {each.person: each.station for each in problem.previous if each.block == block}
    taken = Counter(each.station for each in board.placings if each.block == block)
    found = []
    idle = [
        each
        for each in problem.people
        if each.is_present(span.start, span.end) and each.id not in busy
    ]
    # Who has a job to keep chooses first.
    for person in sorted(idle, key=lambda each: each.id not in kept):
        jobs = [each for each in _open_to(problem, person, block) if taken[each.id] < _seats(each)]
        if jobs:
            job = min(jobs, key=lambda each: _order(person, each, kept, taken))
            found.append(Placing(person.id, block, job.id, 1 + taken[job.id] // job.crew_max))
            taken[job.id] += 1
    return found


def _open_to(problem: Problem, person: Person, block: int) -> list[Station]:
    if gates.stops_in(problem, person, block, is_hot=False):
        return []
    return [each for each in problem.spare_jobs if not gates.stops(problem, person, each)]


def _seats(job: Station) -> int:
    return job.benches * job.crew_max


def _order(
    person: Person, job: Station, kept: dict[str, str], taken: Counter[str]
) -> tuple[bool, bool, int, str]:
    # Company first: two at one table are merrier than one at each.
    return (kept.get(person.id) != job.id, job.id not in person.likes, -taken[job.id], job.id)
