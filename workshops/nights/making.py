"""What is made on a night, as the placing engine asks it: operations, racks, materials, sets."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from inventory.ledger.queries import OnHand
from inventory.materials.models import Item, RecipeLine
from inventory.measures.lengths import MICROMETRES_PER_MM, spell_length
from inventory.measures.steel import pieces_per_stick
from workshops.nights.engine import problem as engine
from workshops.nights.worth import SET_POINTS, Making, Worth
from workshops.stations.models import Operation

MADE = (Item.Kind.RACK, Item.Kind.SET)
USUALLY_WANTED = 100  # of each kind of set, before the season has said how many
THOUSANDTHS = 1000  # fill is used by weight, in parts of a unit


@dataclass(frozen=True, slots=True)
class Pool:
    """Something used up; of a metal, the part that is at least ``length_um`` long (0: no metal).

    ``is_all``: the pool of the shortest length cut from it, so of all that is of any use.
    """

    item: Item
    length_um: int
    is_all: bool = True

    @property
    def key(self) -> str:
        """Its id in a problem."""
        return str(self.item.pk) if self.is_all else f"{self.item.pk}-{self.length_um}"

    @property
    def name(self) -> str:
        """What people call it."""
        if self.is_all:
            return self.item.name
        length = spell_length(self.length_um, self.item.shop.length_units)
        return f"{self.item.name}, {length} or longer"


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
        return tuple(
            engine.Material(key, pool.name, self._there(pool)) for key, pool in self.pools.items()
        )

    @cached_property
    def pools(self) -> dict[str, Pool]:
        """Material -> what it counts. A metal cut to several lengths has one for each.

        A drop that is too short for a post may still give a socket: so all that is cut to a
        length or longer comes out of what lies there at least that long.
        """
        found: dict[str, Pool] = {}
        for row in self.operations:
            for line in _lines(row):
                if line.item.kind not in MADE:
                    found |= {pool.key: pool for pool in self._pools_of(line)}
        return found

    def in_one(self, pool: Pool) -> int:
        """What one stick, roll or unit as bought holds, in the unit in which it is taken."""
        item = pool.item
        if not item.is_by_length:
            return _scale(item)
        return max(1, self._usable(pool, item.bought_length_um or 0))

    def _pools_of(self, line: RecipeLine) -> list[Pool]:
        """The pools a line takes from: those of its own length and of every shorter one."""
        lengths = sorted(self._lengths_cut.get(line.item_id, {0}))
        return [
            Pool(line.item, length, is_all=length == lengths[0])
            for length in lengths
            if length <= line.length_um
        ]

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
                for pool in self._pools_of(line):
                    taken[pool.key] += self._taken(line)
        return dict(taken)

    def _taken(self, line: RecipeLine) -> int:
        if not line.item.is_by_length:
            return max(1, round(line.quantity * _scale(line.item)))
        if self._is_cut_to_one_length(line.item):
            return int(line.quantity)
        # Several lengths compete for one metal: count what each takes, its saw cut included.
        return int(line.quantity) * _cut_mm(line.item, line.length_um)

    def _there(self, pool: Pool) -> int:
        held = self.on_hand.get(pool.item.pk)
        if held is None:
            return 0
        if not pool.item.is_by_length:
            return max(0, int(held.good * _scale(pool.item)))
        return sum(int(part.good) * self._usable(pool, part.length_um) for part in held.lengths)

    def _usable(self, pool: Pool, stick_um: int) -> int:
        """What a stick or drop gives of a pool: pieces, or the most millimetres that go to use."""
        item = pool.item
        lengths = [each for each in self._lengths_cut[item.pk] if each >= pool.length_um]
        counts = {
            each: pieces_per_stick(stick_um, each, kerf=item.kerf_um, trim=item.trim_um)
            for each in lengths
        }
        if self._is_cut_to_one_length(item):
            return counts[pool.length_um]
        return max(count * _cut_mm(item, each) for each, count in counts.items())

    def _is_cut_to_one_length(self, item: Item) -> bool:
        return len(self._lengths_cut.get(item.pk, ())) == 1

    def _good(self, item: Item) -> int:
        held = self.on_hand.get(item.pk)
        return int(held.good) if held else 0

    def _wanted(self, item: Item) -> int:
        if not self.aims:
            return USUALLY_WANTED
        return self.aims.get(item.pk, 0)


def _cut_mm(item: Item, length_um: int) -> int:
    """What one piece takes of a stick in millimetres, its saw cut included, rounded up."""
    return -(-(length_um + item.kerf_um) // MICROMETRES_PER_MM)


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
