"""Racks and materials through the night, for whoever works without a plan."""

from __future__ import annotations

from dataclasses import dataclass, field

from workshops.nights.engine.problem import Problem
from workshops.nights.engine.stations import Operation


@dataclass
class Stock:
    """What stands on the racks and is on hand when a block begins."""

    problem: Problem
    racks: dict[str, float] = field(default_factory=dict)
    materials: dict[str, float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.racks = {each.id: float(each.on_rack) for each in self.problem.pieces}
        self.materials = {each.id: float(each.on_hand) for each in self.problem.materials}
        self._limits = {each.id: each.rack_limit for each in self.problem.pieces}
        self._worth = {each.id: each.worth for each in self.problem.pieces}
        self._by_station: dict[str, list[Operation]] = {}
        for operation in sorted(self.problem.operations, key=self._order):
            self._by_station.setdefault(operation.station, []).append(operation)

    def worth_a_minute(self, operation: Operation) -> float:
        """What the operation adds to the racks by the minute of work."""
        made = self._worth[operation.makes] * operation.makes_count
        used = sum(self._worth[piece] * count for piece, count in operation.uses.items())
        return (made - used) / operation.minutes

    def _order(self, operation: Operation) -> tuple[float, str]:
        # The id only settles ties, so that one problem always gives one order.
        return -self.worth_a_minute(operation), operation.id

    def useful(self, station: str) -> list[tuple[float, float]]:
        """(worth by the minute, minutes of work that lie ready) of each operation, best first."""
        operations = self._by_station.get(station, [])
        return [
            (self.worth_a_minute(each), self._ready(each) * each.minutes) for each in operations
        ]

    def _ready(self, operation: Operation) -> float:
        """Runs for which everything lies ready and the rack has room."""
        limit = self._limits[operation.makes]
        runs = (
            # More than anybody makes in a night.
            1e6 if limit is None else (limit - self.racks[operation.makes]) / operation.makes_count
        )
        for piece, count in operation.uses.items():
            runs = min(runs, self.racks[piece] / count)
        for material, count in operation.materials.items():
            runs = min(runs, self.materials[material] / count)
        return max(0.0, runs)

    def work(self, minutes: dict[str, float]) -> None:
        """Let a block pass with these minutes of work at the stations."""
        # Put on the racks after all stations have drawn: made in this block, used in the next.
        put: dict[str, float] = {}
        for station, left in minutes.items():
            for operation in self._by_station.get(station, []):
                runs = min(self._ready(operation), left / operation.minutes)
                left -= runs * operation.minutes
                for piece, count in operation.uses.items():
                    self.racks[piece] -= runs * count
                for material, count in operation.materials.items():
                    self.materials[material] -= runs * count
                made = runs * operation.makes_count
                put[operation.makes] = put.get(operation.makes, 0.0) + made
        for piece, made in put.items():
            self.racks[piece] += made
