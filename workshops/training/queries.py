"""What the training pages show."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from inventory.places.models import Shop
from workshops.common.models import Job
from workshops.nights.models import Placing, TrainingDate
from workshops.nights.teaching import together
from workshops.people.cover import Lapse, lapsing_soon
from workshops.people.gate import register_on
from workshops.training.covering import Ahead, Cover, Learner, learners_of, look_ahead, train_next
from workshops.training.models import LapseWarning
from workshops.training.pairing import Pair, Unpaired, propose

__all__ = [
    "DateLine", "Overview", "Timetable", "last_weighing", "overview_of", "soon_of", "timetable_of",
    "warnings_of",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Overview:
    """Train next, who is nearly ready, whose sign-off ends soon."""

    covers: list[Cover]
    near: list[Learner]
    others: list[Learner]
    lapsing: list[Lapse]
    nights: int

    @property
    def alone(self) -> list[Cover]:
        """The one-person jobs."""
        return [cover for cover in self.covers if cover.is_alone]


@dataclass(frozen=True, slots=True)
class DateLine:
    """A line of the timetable; ``is_kept`` is none while the night has no plan."""

    row: TrainingDate
    learner: str
    lead: str
    is_kept: bool | None


@dataclass(frozen=True, slots=True)
class Timetable:
    """The timetable of the nights ahead, and what is proposed for it."""

    ahead: Ahead
    lines: list[DateLine]
    pairs: list[Pair]
    unpaired: list[Unpaired]


def overview_of(shop: Shop, on: date) -> Overview:
    """What to train for next, and who learns. 15 queries for any size."""
    ahead = look_ahead(shop, on)
    learners = learners_of(ahead)
    return Overview(
        covers=train_next(ahead, learners),
        near=[each for each in learners if each.ready.is_near],
        others=[each for each in learners if not each.ready.is_near],
        lapsing=lapsing_soon(ahead.register),
        nights=len(ahead.nights),
    )


def timetable_of(shop: Shop, on: date) -> Timetable:
    """The timetable with what stands of it, and proposals. 13 queries for any size."""
    ahead = look_ahead(shop, on)
    rows = TrainingDate.objects.filter(night__shop=shop, night__date__gte=on)
    dates = list(rows.select_related("night", "station").order_by("night__date", "pk"))
    placings: dict[int, list[Placing]] = {}
    for placing in Placing.objects.filter(night__in={row.night_id for row in dates}):
        placings.setdefault(placing.night_id, []).append(placing)
    pairs, unpaired = propose(ahead, train_next(ahead, learners_of(ahead)), dates)
    lines = [_line(ahead, row, placings.get(row.night_id, [])) for row in dates]
    return Timetable(ahead, lines, pairs, unpaired)


def _line(ahead: Ahead, row: TrainingDate, placings: list[Placing]) -> DateLine:
    is_kept = together(row, placings) if placings else None
    return DateLine(row, ahead.names[row.learner_id], ahead.names[row.lead_id], is_kept)


def soon_of(shop: Shop, on: date) -> list[Lapse]:
    """What ends within the club's warning, the first to end first: 8 queries; may be empty."""
    return lapsing_soon(register_on(shop, on))


def last_weighing(shop: Shop) -> Job | None:
    """The last time that lapses were weighed for the winter, or None. 1 query."""
    done = Job.objects.filter(shop=shop, kind="weigh_lapses", state=Job.State.DONE)
    return done.order_by("-ended_at").first()


def warnings_of(shop: Shop, most: int = 60) -> list[LapseWarning]:
    """The warnings sent, the latest first; empty before the first. 1 query."""
    rows = LapseWarning.objects.filter(shop=shop).select_related(
        "sign_off__person", "sign_off__station", "sent_to"
    )
    return list(rows.order_by("-sent_at", "-pk")[:most])
