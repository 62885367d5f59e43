"""Rows about what is made: the hands of whoever the model places."""

from __future__ import annotations

from workshops.nights.engine.making import make
from workshops.nights.engine.model import Model


def production(model: Model) -> None:
    """Everything about making; the objective becomes the worth of the racks at the end."""

    def hands(block: int, station: str, rank: int) -> tuple[dict[int, float], float]:
        return _minutes(model, block, station, rank), 0.0

    model.making = make(model.problem, model.programme, list(model.opens), hands)


def _minutes(model: Model, block: int, station: str, rank: int) -> dict[int, float]:
    """Minutes at pace 1.0 that each column stands for, of people who hold the level."""
    minutes, learner = model.problem.blocks[block].minutes, model.problem.club.learner_rate
    terms = {}
    for number, column in model.at(block, station):
        group = model.groups[number]
        level = group.levels[station]
        if rank < 0 or (level is not None and level.rank >= rank):
            is_learner = station not in group.works
            terms[column] = minutes * group.rates[station] * (learner if is_learner else 1.0)
    return terms
