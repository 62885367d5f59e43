"""Learners at the bench of the lead who is to teach them: people of one kind change benches."""

from __future__ import annotations

from collections.abc import Iterable

from workshops.nights.engine.problem import Problem

Benches = dict[str, int]  # person -> bench


def side_by_side(
    problem: Problem,
    station: str,
    at: Benches,
    *,
    kinds: tuple[Iterable[str], Iterable[str]],
) -> Benches:
    """The benches with each pair of the problem at one bench, where changing places allows.

    Parameters
    ----------
    kinds
        Those who may lead there, and those who learn.

    Notes
    -----
    A learner changes places with a learner, or the lead with a lead: every bench keeps as
    many of each kind, so that no rule about benches can be broken by it.
    """
    leads, learners = (set(kind) & set(at) for kind in kinds)
    at, settled = dict(at), set[str]()
    for pair in problem.beside:
        if pair.station != station or pair.learner not in learners or pair.lead not in leads:
            continue
        if not _meet(at, pair.learner, at[pair.lead], learners - settled):
            _meet(at, pair.lead, at[pair.learner], leads - settled)
        if at[pair.learner] == at[pair.lead]:
            # Who has been put together is not moved again for the next pair.
            settled |= {pair.learner, pair.lead}
    return at


def _meet(at: Benches, person: str, bench: int, others: set[str]) -> bool:
    """Bring the person to the bench in exchange for one of the others there, if one is."""
    if at[person] == bench:
        return True
    if person not in others:
        return False
    there = next((each for each in sorted(others) if at[each] == bench), None)
    if there is None:
        return False
    at[person], at[there] = bench, at[person]
    return True
