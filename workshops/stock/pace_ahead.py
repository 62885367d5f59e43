"""What the nights to come will make, piece by piece, as the needs ask for it.

Tonight and every night that is planned counts as its plan says; the others at the season's pace:
who is on the list and signed off, on average luck, as if nothing that is bought were short.
Reckoned with the shortages in it, a night would stop taking what is not there, and nothing
would ever have to be ordered for it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from inventory.engines.stop import Seconds
from inventory.needs.scrap import Scrap
from inventory.needs.translate import Night as NeedsNight
from inventory.places.models import Shop
from workshops.nights.models import Night
from workshops.nights.queries import counts_of, expected_of
from workshops.season.engine import problem as engine
from workshops.season.engine_pace.plan import Pace
from workshops.season.engine_pace.solve import solve
from workshops.season.loading import problem_of
from workshops.season.queries import winter_of
from workshops.stations.models import Operation
from workshops.stock.wanted import nights_ahead, usual_sets

PLENTY = 10**8  # of everything that is bought
SECONDS = 5.0

BY_PACE = (
    "Tonight and planned nights as planned, the others at the season's pace: who is on the list "
    "and signed off, on average luck, as if nothing bought were short."
)


@dataclass(frozen=True, slots=True)
class Ahead:
    """The nights to come as the needs ask for them, and in words where they come from."""

    nights: Sequence[NeedsNight]
    assumption: str


def at_rate(shop: Shop, today: date, sets: int) -> Ahead:
    """So many sets on every planned night, begun and finished that night. 1 query."""
    says = f"{sets} set{'' if sets == 1 else 's'} on every planned night, begun and finished on it."
    return Ahead(nights_ahead(shop, today, sets), says)


def at_pace(shop: Shop, today: date, scrap: Mapping[int, Scrap]) -> Ahead:
    """Pieces night by night from the season's pace; at the usual rate where there is none.

    35 queries for any number of nights.
    """
    problem = _problem(shop, today)
    if problem is None:
        return at_rate(shop, today, usual_sets(shop))
    pace = solve(problem, stop=Seconds(SECONDS))
    outputs = _outputs(shop)
    planned = _planned(shop, today)
    nights = _whole(pace, outputs, scrap)
    return Ahead(
        [(day, planned.get(day, made)) for day, made in nights.items()], BY_PACE
    )  # fmt: skip


def _problem(shop: Shop, today: date) -> engine.Problem | None:
    """The rest of the winter with plenty of all that is bought; ``None`` when none is laid out."""
    winter = winter_of(shop, today)
    if winter is None or not winter.targets.exists():
        return None
    problem = problem_of(winter, today)
    if not problem.nights or not problem.variants:
        return None
    made = {operation.makes for operation in problem.operations}
    plenty = tuple(
        item if item.id in made else replace(item, on_hand=PLENTY) for item in problem.items
    )
    return replace(problem, items=plenty, arrivals=())


def _outputs(shop: Shop) -> dict[str, int]:
    """Operation -> what it makes. 1 query."""
    rows = Operation.objects.filter(shop=shop).values_list("pk", "recipe__output")
    return {str(operation): output for operation, output in rows}


def _whole(
    pace: Pace, outputs: Mapping[str, int], scrap: Mapping[int, Scrap]
) -> dict[date, dict[int, int]]:
    """Good pieces night by night, whole ones: what is begun tonight and done next counts next."""
    begun: defaultdict[str, float] = defaultdict(float)
    done: defaultdict[str, int] = defaultdict(int)
    found: dict[date, dict[int, int]] = {}
    for night in pace.nights:
        made: defaultdict[int, int] = defaultdict(int)
        for operation, pieces in night.pieces.items():
            output = outputs[operation]
            share = scrap[output].per_mille / 1000 if output in scrap else 0.0
            begun[operation] += pieces * (1 - share)
            # Rounded once for all nights so far, or ten nights of 0.4 would make nothing.
            whole = int(begun[operation] + 0.5)
            made[output] += whole - done[operation]
            done[operation] = whole
        found[date.fromisoformat(night.date)] = dict(made)
    return found


def _planned(shop: Shop, today: date) -> dict[date, dict[int, int]]:
    """What is still to be made on nights that have a plan, by night and item. 4 queries."""
    nights = Night.objects.filter(
        shop=shop, date__gte=today, status=Night.Status.PLANNED, plan__isnull=False
    )
    outputs = _outputs(shop)
    found: dict[date, dict[int, int]] = {}
    for night in nights.select_related("plan", "shop"):
        made: defaultdict[int, int] = defaultdict(int)
        # What was tallied tonight has left the shelves already.
        counted = _counted(night) if night.date == today else {}
        for row in expected_of(night.plan):
            output = outputs.get(str(row.operation_id))
            if output is not None:
                made[output] += max(0, row.rounded - counted.get(row.operation_id, 0))
        found[night.date] = dict(made)
    return found


def _counted(night: Night) -> dict[int, int]:
    rows = counts_of(night)
    return {row.operation.pk: row.good + row.hold + row.scrap for row in rows}
