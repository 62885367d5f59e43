"""The night as an integer programme over groups of people, blocks and kinds of benches.

Columns: how many of a group work, learn or watch somewhere in a block; how many benches of a
station are open; whether sparks fly in a room; expected runs of each operation; racks. Each
rule family adds its rows in a function of its own, so that one can be left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from inventory.engines.milp import Programme
from workshops.nights.engine.alike import Group, groups
from workshops.nights.engine.making import Making
from workshops.nights.engine.model_gates import NOTHING
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.stations import Station

Slot = tuple[int, str]  # block, station or room


@dataclass
class Model:
    """Columns by what they mean; ``off`` names rules left out."""

    problem: Problem
    groups: tuple[Group, ...]
    off: frozenset[str] = NOTHING
    programme: Programme = field(default_factory=lambda: Programme(maximise=True))
    works: dict[Slot, dict[int, int]] = field(default_factory=dict)  # slot -> group -> column
    learns: dict[Slot, dict[int, int]] = field(default_factory=dict)
    watches: dict[Slot, dict[int, int]] = field(default_factory=dict)  # by room
    opens: dict[Slot, int] = field(default_factory=dict)
    hot: dict[Slot, int] = field(default_factory=dict)  # by room
    making: Making | None = None

    def slots(self) -> Iterator[tuple[int, Station]]:
        """Every block and station where somebody could stand."""
        for block, station in self.opens:
            yield block, self.problem.station[station]

    def at(self, block: int, station: str) -> Iterator[tuple[int, int]]:
        """(group, column) of everybody there, learners included."""
        yield from self.works.get((block, station), {}).items()
        yield from self.learns.get((block, station), {}).items()

    def watching(self, block: int) -> Iterator[tuple[int, int]]:
        """(group, column) of everybody on the fire watch in the block, in any room."""
        for (at, _), columns in self.watches.items():
            if at == block:
                yield from columns.items()

    @staticmethod
    def sum_of(columns: Iterable[int], coefficient: float = 1.0) -> dict[int, float]:
        """A row that adds the columns up."""
        return dict.fromkeys(columns, coefficient)


def empty_model(
    problem: Problem, off: frozenset[str] = NOTHING, *, are_single: bool = False
) -> Model:
    """A model with its columns for people and benches, and no rows yet."""
    model = Model(problem, groups(problem, off, are_single=are_single), off)
    spare = {each.id for each in problem.spare_jobs}
    for block in range(len(problem.blocks)):
        for station in (each for each in problem.benches if each.id not in spare):
            _add_slot(model, block, station)
    return model


def _add_slot(model: Model, block: int, station: Station) -> None:
    works, learns = {}, {}
    for number, group in enumerate(model.groups):
        if block not in (group.hot_blocks if station.is_hot else group.blocks):
            continue
        if station.id in group.works:
            works[number] = model.programme.column(upper=group.size, integer=True)
        elif station.id in group.learns:
            learns[number] = model.programme.column(upper=group.size, integer=True)
    has_lead = any(station.id in model.groups[number].leads for number in works)
    if not has_lead and "learner_beside_lead" not in model.off:
        learns = {}
    if station.benches and (works or learns):
        slot = (block, station.id)
        model.works[slot], model.learns[slot] = works, learns
        model.opens[slot] = model.programme.column(upper=station.benches, integer=True)
