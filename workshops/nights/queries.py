"""What the pages of a night need, ready for the template."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from uuid import UUID, uuid4

from django.db.models import Count, Exists, OuterRef, Q, QuerySet, Sum

from inventory.places.models import Shop
from workshops.nights.clock import spell, today_in
from workshops.nights.models import (
    Night,
    PlacingRun,
    RollLine,
    SignUp,
    Tally,
    TrainingDate,
)
from workshops.people.models import Person
from workshops.people.names import short_names
from workshops.stations.models import Operation, Station


@dataclass(frozen=True, slots=True)
class Expected:
    """What the plan expects of one operation tonight."""

    operation: str
    station: str
    pieces: float
    station_id: int = 0
    operation_id: int = 0

    @property
    def rounded(self) -> int:
        """Whole pieces, rounded down: a started piece is not a piece."""
        return int(self.pieces + 1e-6)


@dataclass(frozen=True, slots=True)
class OperationCount:
    """What was tallied of one operation on a night."""

    operation: Operation
    good: int
    hold: int
    scrap: int

    @property
    def is_any(self) -> bool:
        """Whether anything was counted."""
        return bool(self.good or self.hold or self.scrap)

    @property
    def key(self) -> UUID:
        """Another one for each form: sent twice by a double press, it counts once."""
        return uuid4()


@dataclass(frozen=True)
class StationCounts:
    """The operations of one station; ``is_open`` when it is in the plan or was counted."""

    station: Station
    is_open: bool
    counts: list[OperationCount]


def nights_of(shop: Shop) -> QuerySet[Night]:
    """All nights, earliest first, with who comes (``coming``) and what was counted. 1 query."""
    coming = Count("sign_ups", filter=Q(sign_ups__answer="yes"), distinct=True)
    came = Count("roll__person", distinct=True)
    return Night.objects.filter(shop=shop).annotate(coming=coming, came=came).order_by("date")


def night_on(shop: Shop, on: date) -> Night | None:
    """The night of a day with its plan, hand-over and shop, or None. 1 query."""
    rows = Night.objects.select_related("plan", "shop", "hand_over")
    # Asked here, so that a night on which nobody is taught costs its page no query.
    rows = rows.annotate(has_training=Exists(TrainingDate.objects.filter(night=OuterRef("pk"))))
    return rows.filter(shop=shop, date=on).first()


def next_night(shop: Shop, now: datetime) -> Night | None:
    """Tonight's night, else the next one planned, or None when none is. 1 query."""
    today = today_in(shop, now).date()
    planned = Night.objects.filter(shop=shop, date__gte=today, status=Night.Status.PLANNED)
    return planned.select_related("plan", "shop").order_by("date").first()


def last_hand_over(night: Night) -> Night | None:
    """The latest closed night before, with its hand-over, or None. 1 query."""
    before = Night.objects.filter(
        shop=night.shop, date__lt=night.date, hand_over__isnull=False
    ).select_related("hand_over")
    return before.order_by("-date").first()


def expected_of(run: PlacingRun | None) -> list[Expected]:
    """What a run expects to be made, operation by operation; empty without one. No query."""
    if run is None:
        return []
    stations = {row["id"]: row["name"] for row in run.problem["stations"]}
    made: dict[str, list[float]] = run.result["output"]["made"]
    found = []
    for row in run.problem["operations"]:
        pieces = sum(made.get(row["id"], ())) * row["makes_count"]
        if pieces >= 1:
            found.append(
                Expected(
                    operation=row["name"], station=stations[row["station"]], pieces=pieces,
                    station_id=int(row["station"]), operation_id=int(row["id"]),
                )
            )  # fmt: skip
    return found


def expected_sets(run: PlacingRun | None) -> int:
    """Complete sets a run expects to add; 0 without one. No query."""
    if run is None:
        return 0
    return _sets_in(run.result["output"])


@dataclass(frozen=True, slots=True)
class FirstCome:
    """What a plan makes more than first come, first placed; less than nothing where it is less."""

    sets: int
    pieces: int

    @property
    def told(self) -> str:
        """In one sentence."""
        return f"{self._sets()} first come, first placed, and {self._pieces()}."

    def _sets(self) -> str:
        if self.sets == 0:
            return "As many sets as"
        what = "more" if self.sets > 0 else "fewer"
        count = abs(self.sets)
        return f"{count} {what} set{'' if count == 1 else 's'} than"

    def _pieces(self) -> str:
        count = abs(self.pieces)
        what = "fewer" if self.pieces < 0 else "more"
        return (
            f"{count} piece{'' if count == 1 else 's'} {what} on the way"
            if count
            else ("as many pieces on the way")
        )


def first_come_of(run: PlacingRun | None) -> FirstCome | None:
    """What a run makes more than its own baseline; none where that was not kept. No query."""
    if run is None or not run.result.get("first_come_output", {}).get("sets_before"):
        return None
    plan, base = run.result["output"], run.result["first_come_output"]
    counts = {row["id"]: row["makes_count"] for row in run.problem["operations"]}

    def pieces(output: Mapping[str, Any]) -> int:
        made = ((name, sum(runs)) for name, runs in output["made"].items())
        return sum(int(each * counts.get(name, 1) + 1e-6) for name, each in made)

    return FirstCome(_sets_in(plan) - _sets_in(base), pieces(plan) - pieces(base))


def _sets_in(output: Mapping[str, Any]) -> int:
    before = output["sets_before"]
    added = sum(count - before.get(kind, 0.0) for kind, count in output["sets"].items())
    return int(added + 1e-6)


def last_spark_of(night: Night, watch_minutes: int) -> str:
    """The latest time for sparks: lock-up less the club's watch. No query."""
    return spell(night.lock_up.hour * 60 + night.lock_up.minute - watch_minutes)


@dataclass(frozen=True, slots=True)
class Heads:
    """How many said yes, and how many guests they bring."""

    people: int = 0
    guests: int = 0


def heads_expected(night: Night) -> Heads:
    """Who said yes to a night, with the guests they bring: 1 query."""
    said = night.sign_ups.filter(answer=SignUp.Answer.YES)
    found = said.aggregate(people=Count("pk"), guests=Sum("guests"))
    return Heads(found["people"], found["guests"] or 0)


def names_in(shop: Shop) -> dict[int, str]:
    """Short names of everybody in the shop, two of one name told apart. 1 query."""
    return short_names(Person.objects.filter(shop=shop))


def roll_of(night: Night) -> QuerySet[RollLine]:
    """Every stay of the night, first in first. 1 query."""
    return night.roll.select_related("person").order_by("in_at")


def in_the_building(night: Night) -> QuerySet[RollLine]:
    """Who is in now: the evacuation list. 1 query."""
    return roll_of(night).filter(out_at=None).order_by("person__first_name", "person__last_name")


def tallies_of(night: Night) -> QuerySet[Tally]:
    """The counts that stand, latest first. 1 query."""
    standing = night.tallies.standing()
    return standing.select_related("operation__station").order_by("-counted_at", "-pk")


def counts_of(night: Night) -> list[OperationCount]:
    """What stands counted of each operation in use, in the order of the work. 2 queries."""
    standing = night.tallies.standing().order_by().values("operation")
    sums = {
        row["operation"]: (row["good"], row["hold"], row["scrap"])
        for row in standing.annotate(good=Sum("good"), hold=Sum("hold"), scrap=Sum("scrap"))
    }
    rows = Operation.objects.filter(shop=night.shop, is_in_use=True).select_related("station")
    return [OperationCount(row, *sums.get(row.pk, (0, 0, 0))) for row in rows]


def counts_by_station(night: Night) -> list[StationCounts]:
    """What stands counted, station by station, those open tonight first. 3 queries."""
    placed = set(night.placings.order_by().values_list("station", flat=True))
    groups: dict[int, list[OperationCount]] = {}
    for row in counts_of(night):
        groups.setdefault(row.operation.station_id, []).append(row)
    found = [
        StationCounts(
            station=rows[0].operation.station,
            is_open=key in placed or any(row.is_any for row in rows),
            counts=rows,
        )
        for key, rows in groups.items()
    ]
    return sorted(found, key=lambda group: not group.is_open)
