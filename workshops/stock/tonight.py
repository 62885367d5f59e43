"""The cut lists of a night: the pieces its plan still wants, from the sticks in the rack."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

from inventory.cutting.actions import Asked, NothingToCut, Wanted, make_cut_list
from inventory.cutting.models import CutListRun
from inventory.cutting.queries import in_use
from inventory.materials.models import Item
from inventory.materials.queries import pieces_wanted, recipes_in_use, sets_of
from inventory.places.models import Shop
from workshops.access.models import User
from workshops.nights.models import Night
from workshops.nights.queries import counts_of, expected_of
from workshops.stations.models import Operation

# What one piece is made into, and its length: by that a part of one night is told in a set.
Spot = tuple[int, int]


@dataclass(frozen=True, slots=True)
class ForTonight:
    """Lists that were made, and for each metal without one why it needs none."""

    runs: tuple[CutListRun, ...]
    ready: tuple[str, ...]


def pieces_for(night: Night) -> dict[Item, dict[Spot, Wanted]]:
    """Metal -> (name, micrometres, count) of what tonight's plan still cuts. 5 queries.

    What was tallied tonight is made already. Empty without a plan, or when nothing is cut.
    """
    expected = {row.operation_id: row.rounded for row in expected_of(night.plan)}
    made = {row.operation.pk: row.good + row.hold for row in counts_of(night) if row.is_any}
    rows = Operation.objects.filter(pk__in=expected).select_related("recipe__output", "part")
    found: defaultdict[Item, dict[Spot, Wanted]] = defaultdict(dict)
    for row in rows.prefetch_related("recipe__lines__item__shop"):
        pieces = max(0, expected[row.pk] - made.get(row.pk, 0))
        for line in row.recipe.lines.all():
            if pieces and line.length_um and line.item.is_by_length:
                name = row.part.name if row.part else row.recipe.output.name
                count = int(line.quantity) * -(-pieces // row.recipe.quantity)
                spot = (row.recipe.output_id, line.length_um)
                found[line.item][spot] = (name, line.length_um, count)
    return dict(found)


def cut_for_tonight(*, night: Night, by: User | None, seconds: float = 3) -> ForTonight:
    """Make and keep a cut list for every metal that tonight's plan still cuts.

    Lists made for the night before, ticked or not, give way to these; pieces that lie cut to
    length count as cut.

    Raises
    ------
    inventory.cutting.actions.CutListRefused
        When a piece cannot be asked for.
    """
    key, runs, ready = night.date.isoformat(), [], []
    before = in_use(night.shop, key)
    shares = _shares(night.shop)
    for item, pieces in pieces_for(night).items():
        asked = Asked(
            night_key=key,
            seconds=seconds,
            per_set=_per_set(item, pieces, shares),
            replaces=[run for run in before if run.item_id == item.pk],
        )
        try:
            runs.append(
                make_cut_list(
                    shop=night.shop, item=item, pieces=list(pieces.values()), by=by, asked=asked
                )
            )
        except NothingToCut as nothing:
            ready.append(f"{item}: {nothing}")
    return ForTonight(tuple(runs), tuple(ready))


def make_cut_lists(*, night: Night, by: User | None, seconds: float = 3) -> list[CutListRun]:
    """The lists of ``cut_for_tonight`` alone."""
    return list(cut_for_tonight(night=night, by=by, seconds=seconds).runs)


def _shares(shop: Shop) -> dict[int, dict[Spot, int]]:
    """Metal -> what one set takes of each piece; the first kind of set that takes it. 3 queries."""
    recipes, found = recipes_in_use(shop), defaultdict[int, dict[Spot, int]](dict)
    lines = {line.item for recipe in recipes.values() for line in recipe.lines.all()}
    for kind in sets_of(shop):
        for metal in lines:
            if metal.is_by_length:
                for piece in pieces_wanted(metal, recipes, {kind.pk: 1}):
                    spot = (piece.made_into.pk, piece.length_um)
                    found[metal.pk].setdefault(spot, piece.count)
    return found


def _per_set(
    item: Item, pieces: Mapping[Spot, Wanted], shares: Mapping[int, Mapping[Spot, int]]
) -> dict[str, int]:
    known = shares.get(item.pk, {})
    return {name: known[spot] for spot, (name, _, _) in pieces.items() if spot in known}
