"""What is made on a night, as the placing engine asks it: operations, racks, materials, sets."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from inventory.ledger.queries import OnHand
from inventory.materials.models import Item, RecipeLine
from inventory.measures.lengths import MICROMETRES_PER_MM
from workshops.nights.engine import problem as engine
from workshops.nights.worth import SET_POINTS, Making, Worth
from workshops.stations.models import Operation

MADE = (Item.Kind.RACK, Item.Kind.SET)
USUALLY_WANTED = 100  # of each kind of set, before the season has said how many
THOUSANDTHS = 1000  # fill is used by weight, in parts of a unit


@dataclass(frozen=True)
class Shopful:
    """All that is made here, from what, and what there is of it.

    Parameters
    ----------
    operations
        In use, with station, recipe, recipe lines and their items at hand.
    on_hand
        Item id -> what there is of it.
    aims
        Set item id -> how many more the winter wants; empty before the season has said.
    """

    operations: Sequence[Operation]
    on_hand: Mapping[int, OnHand]
    aims: Mapping[int, int]

    @cached_property
    def pieces(self) -> tuple[engine.Piece, ...]:
        """Everything made here, with its worth to the winter."""
        return tuple(self._piece(item) for item in self._made_items)

    @cached_property
    def sets(self) -> tuple[engine.SetKind, ...]:
        """Every kind of complete set: the finished one is its own single part."""
        return tuple(
            engine.SetKind(
                id=f"set-{item.pk}", name=item.name, worth=SET_POINTS,
                parts={str(item.pk): 1}, wanted=self._wanted(item) + self._good(item),
            )
            for item in self._made_items
            if item.kind == Item.Kind.SET
        )  # fmt: skip

    @cached_property
    def runs(self) -> tuple[engine.Operation, ...]:
        """The operations; those whose recipe takes a half-made thing nobody makes are left out."""
        made = {item.pk for item in self._made_items}
        return tuple(
            self._operation(row)
            for row in self.operations
            if all(line.item_id in made for line in _lines(row) if line.item.kind in MADE)
        )

    @cached_property
    def materials(self) -> tuple[engine.Material, ...]:
        """What is used up, counted in the unit in which the operations take it."""
        lines = {}
        for row in self.operations:
            for line in _lines(row):
                if line.item.kind not in MADE:
                    lines[str(line.item_id)] = line
        return tuple(
            engine.Material(key, line.item.name, self._there(line)) for key, line in lines.items()
        )

    @cached_property
    def _made_items(self) -> list[Item]:
        return [row.recipe.output for row in self.operations]

    @cached_property
    def _worth(self) -> Worth:
        wanted = {
            str(item.pk): self._wanted(item)
            for item in self._made_items
            if item.kind == Item.Kind.SET
        }
        held = {str(item.pk): self._good(item) for item in self._made_items}
        return Worth(
            making={str(row.recipe.output_id): _making(row) for row in self.operations},
            wanted=wanted,
            on_rack=held,
        )

    @cached_property
    def _lengths_cut(self) -> dict[int, set[int]]:
        """Metal item -> the lengths cut from it."""
        found: dict[int, set[int]] = {}
        for row in self.operations:
            for line in _lines(row):
                if line.length_um:
                    found.setdefault(line.item_id, set()).add(line.length_um)
        return found

    def _piece(self, item: Item) -> engine.Piece:
        # A finished set gets its worth from its kind, not once more from the rack.
        worth = 0.0 if item.kind == Item.Kind.SET else self._worth.of(str(item.pk))
        return engine.Piece(
            id=str(item.pk), name=item.name, worth=worth,
            on_rack=self._good(item), rack_limit=item.rack_limit,
        )  # fmt: skip

    def _operation(self, row: Operation) -> engine.Operation:
        recipe, lines = row.recipe, _lines(row)
        return engine.Operation(
            id=str(row.pk),
            station=str(row.station_id),
            name=row.name,
            minutes=float(row.minutes_per_piece) * recipe.quantity,
            makes=str(recipe.output_id),
            makes_count=recipe.quantity,
            uses={
                str(line.item_id): int(line.quantity) for line in lines if line.item.kind in MADE
            },
            materials=self._materials_of(lines),
        )

    def _materials_of(self, lines: Iterable[RecipeLine]) -> dict[str, int]:
        """Material -> how much one run takes, two lengths of one metal together."""
        taken: Counter[str] = Counter()
        for line in lines:
            if line.item.kind not in MADE:
                taken[str(line.item_id)] += self._taken(line)
        return dict(taken)

    def _taken(self, line: RecipeLine) -> int:
        if not line.item.is_by_length:
            return max(1, round(line.quantity * _scale(line.item)))
        if self._is_cut_to_one_length(line.item):
            return int(line.quantity)
        # Several lengths compete for one metal: count what each takes, its saw cut included.
        return int(line.quantity) * -(-(line.length_um + line.item.kerf_um) // MICROMETRES_PER_MM)

    def _there(self, line: RecipeLine) -> int:
        item, held = line.item, self.on_hand.get(line.item_id)
        if held is None:
            return 0
        if not item.is_by_length:
            return max(0, int(held.good * _scale(item)))
        usable = [
            (part.length_um - 2 * item.trim_um + item.kerf_um, int(part.good))
            for part in held.lengths
        ]
        if self._is_cut_to_one_length(item):
            return sum(
                count * max(0, length // (line.length_um + item.kerf_um))
                for length, count in usable
            )
        shortest = min(self._lengths_cut[item.pk])
        return sum(
            count * (length // MICROMETRES_PER_MM) for length, count in usable if length >= shortest
        )

    def _is_cut_to_one_length(self, item: Item) -> bool:
        return len(self._lengths_cut.get(item.pk, ())) == 1

    def _good(self, item: Item) -> int:
        held = self.on_hand.get(item.pk)
        return int(held.good) if held else 0

    def _wanted(self, item: Item) -> int:
        if not self.aims:
            return USUALLY_WANTED
        return self.aims.get(item.pk, 0)


def _scale(item: Item) -> int:
    return THOUSANDTHS if item.kind == Item.Kind.FILL else 1


def _making(row: Operation) -> Making:
    uses = {
        str(line.item_id): float(line.quantity) / row.recipe.quantity
        for line in _lines(row)
        if line.item.kind in MADE
    }
    return Making(minutes=float(row.minutes_per_piece), uses=uses)


def _lines(row: Operation) -> Iterable[RecipeLine]:
    return row.recipe.lines.all()
