"""The cut lists of a night: the pieces its plan wants, from the sticks in the rack."""

from __future__ import annotations

from collections import defaultdict

from inventory.cutting.actions import make_cut_list
from inventory.cutting.models import CutListRun
from inventory.materials.models import Item
from workshops.access.models import User
from workshops.nights.models import Night
from workshops.nights.queries import expected_of
from workshops.stations.models import Operation

Pieces = dict[Item, list[tuple[str, int, int]]]


def pieces_for(night: Night) -> Pieces:
    """Metal -> (name, micrometres, count) of what tonight's plan cuts from it. 3 queries.

    Empty without a plan, or when nothing is cut tonight.
    """
    expected = {row.operation_id: row.rounded for row in expected_of(night.plan)}
    rows = Operation.objects.filter(pk__in=expected).select_related("recipe__output", "part")
    found: defaultdict[Item, list[tuple[str, int, int]]] = defaultdict(list)
    for row in rows.prefetch_related("recipe__lines__item__shop"):
        for line in row.recipe.lines.all():
            if line.length_um and line.item.is_by_length:
                name = row.part.name if row.part else row.recipe.output.name
                count = int(line.quantity) * -(-expected[row.pk] // row.recipe.quantity)
                found[line.item].append((name, line.length_um, count))
    return dict(found)


def make_cut_lists(*, night: Night, by: User | None, seconds: float = 3) -> list[CutListRun]:
    """Make and keep a cut list for every metal that tonight's plan cuts; may be none.

    Raises
    ------
    inventory.cutting.actions.CutListRefused
        When a piece cannot be asked for.
    """
    return [
        make_cut_list(
            shop=night.shop, item=item, pieces=pieces, by=by, seconds=seconds,
            night_key=night.date.isoformat(),
        )
        for item, pieces in pieces_for(night).items()
    ]  # fmt: skip
