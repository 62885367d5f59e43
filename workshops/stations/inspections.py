"""When a tool is due to be looked at, by its own months or by the club's rule for its kind.

An inspection overdue is a caution. It closes nothing, unless the club made that a rule: then
the tool counts as out of service until somebody has looked at it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from dateutil.relativedelta import relativedelta

from workshops.club.queries import Rules
from workshops.stations.models import Station, Tool

SOON = timedelta(days=30)
SOURCE = "Michigan R 408.11281(1): resistance welders yearly, with records kept"


class Stage(StrEnum):
    """How a tool stands to its inspection."""

    NOT_ASKED = "no regular inspection"
    DONE = "inspected"
    SOON = "inspection due"
    OVERDUE = "inspection overdue"


@dataclass(frozen=True, slots=True)
class Inspected:
    """What the club's record says of one tool on a day."""

    tool: Tool
    stage: Stage
    months: int = 0
    due_on: date | None = None

    @property
    def is_overdue(self) -> bool:
        """Whether the last day is over, or no inspection was ever written down."""
        return self.stage is Stage.OVERDUE

    @property
    def mark(self) -> str:
        """The mark of the state beside its words."""
        return {Stage.SOON: "short", Stage.OVERDUE: "closed"}.get(self.stage, "open")

    @property
    def told(self) -> str:
        """In words: ``inspection overdue since 3 Oct 2025``."""
        if self.due_on is None:
            return f"{self.stage}: none is written down" if self.is_overdue else str(self.stage)
        day = f"{self.due_on.day} {self.due_on:%b %Y}"
        return f"{self.stage} since {day}" if self.is_overdue else f"next inspection by {day}"


def months_of(tool: Tool, kinds: Collection[str], rules: Rules) -> int:
    """How many months an inspection counts for; 0 where none is asked. No query.

    ``kinds`` are those of the stations that use the tool.
    """
    if tool.inspection_months is not None:
        return tool.inspection_months
    return (rules.spot_inspection_months or 0) if Station.Kind.SPOT_WELD in kinds else 0


def inspection_of(tool: Tool, kinds: Collection[str], rules: Rules, on: date) -> Inspected:
    """How a tool stands to its inspection on a day; its last day counts. No query."""
    months = months_of(tool, kinds, rules)
    if not months:
        return Inspected(tool, Stage.NOT_ASKED)
    if tool.inspected_on is None:
        return Inspected(tool, Stage.OVERDUE, months)
    due_on = tool.inspected_on + relativedelta(months=months)
    stage = Stage.OVERDUE if due_on < on else Stage.SOON if due_on <= on + SOON else Stage.DONE
    return Inspected(tool, stage, months, due_on)


def inspections_at(stations: Iterable[Station], rules: Rules, on: date) -> dict[int, Inspected]:
    """Tool -> how it stands, of all that the stations use; no query when they are at hand."""
    tools: dict[int, Tool] = {}
    kinds: defaultdict[int, set[str]] = defaultdict(set)
    for station in stations:
        for tool in station.tools.all():
            tools[tool.pk] = tool
            kinds[tool.pk].add(station.kind)
    return {pk: inspection_of(tool, kinds[pk], rules, on) for pk, tool in tools.items()}


def unusable(inspected: Inspected, rules: Rules) -> int:
    """How many of the tool no plan may count on. No query."""
    tool = inspected.tool
    return tool.count if stops(inspected, rules) else tool.out_of_service


def stops(inspected: Inspected, rules: Rules) -> bool:
    """Whether the club's own rule keeps the tool out of use until it was inspected."""
    return inspected.is_overdue and rules.overdue_stops


def overdue_cautions(station: Station, found: Mapping[int, Inspected]) -> list[dict[str, str]]:
    """What the station's card says of those of its tools whose inspection is overdue."""
    there = [found[tool.pk] for tool in station.tools.all() if tool.pk in found]
    return [
        {"text": f"{each.tool}: {each.told}. Tell the duty lead.", "source": SOURCE}
        for each in there if each.is_overdue
    ]  # fmt: skip
