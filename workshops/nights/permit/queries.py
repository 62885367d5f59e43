"""Where the hot work of a night stands: sparks, watch, signatures, and when to lock up.

Other slices ask ``last_spark_at``, ``is_arc_allowed`` and ``lock_up_from``.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from workshops.club.queries import rules_of
from workshops.nights.clock import moment
from workshops.nights.models import Night
from workshops.nights.permit.models import (
    HandOver,
    HotWorkPermit,
    PermitAnswer,
    Spark,
    WatchNote,
    WatchTurn,
)
from workshops.nights.permit.points import Point, points_of
from workshops.stations.guidance.fire import FireCode, Watch


@dataclass(frozen=True, slots=True)
class Asked:
    """A point with its latest answer; none: nobody has looked yet."""

    point: Point
    answer: PermitAnswer | None

    @property
    def is_yes(self) -> bool:
        """Whether it stands answered with yes."""
        return self.answer is not None and self.answer.is_yes


@dataclass(frozen=True)
class HotWork:
    """The hot work of one night as it stands; all times are moments."""

    night: Night
    permit: HotWorkPermit | None
    asked: tuple[Asked, ...]
    turns: tuple[WatchTurn, ...]
    sparks: tuple[Spark, ...]
    notes: tuple[WatchNote, ...]
    watch: Watch

    @property
    def open_points(self) -> list[Asked]:
        """Points without a yes."""
        return [each for each in self.asked if not each.is_yes]

    @property
    def latest_spark(self) -> datetime:
        """The latest moment for a spark: lock-up less the watch."""
        return moment(self.night, self.night.lock_up) - timedelta(minutes=self.watch.minutes)

    @property
    def last_spark(self) -> datetime | None:
        """When the last spark really was; none: nobody has told one."""
        return self.permit.last_spark_at if self.permit else None

    @property
    def turn(self) -> WatchTurn | None:
        """Who is on watch now."""
        return next((each for each in self.turns if each.until_at is None), None)

    @property
    def watch_from(self) -> datetime | None:
        """From when the watch counts: the last spark, or later when nobody watched since."""
        if self.last_spark is None:
            return None
        return max(self.last_spark, unbroken_since(self.turns) or self.last_spark)

    @property
    def watch_until(self) -> datetime | None:
        """When the watch may be signed; none before the last spark."""
        since = self.watch_from
        return since + timedelta(minutes=self.watch.minutes) if since else None

    @property
    def second_look_from(self) -> datetime | None:
        """When the second look is due; none where none is ordered, or before the last spark."""
        since = self.watch_from
        return (
            self.watch.earliest_lock_up(since) if since and self.watch.monitoring_minutes else None
        )

    @property
    def lock_up(self) -> datetime:
        """The earliest lock-up: as planned, or when the watch and the second look are over."""
        since = self.watch_from
        planned = moment(self.night, self.night.lock_up)
        return max(planned, self.watch.earliest_lock_up(since)) if since else planned

    @property
    def is_later(self) -> bool:
        """Whether sparks have moved lock-up."""
        return self.lock_up > moment(self.night, self.night.lock_up)

    @property
    def is_signed(self) -> bool:
        """Whether the end of the watch is signed, and no spark came after."""
        return self.permit is not None and self.permit.watch_ended_at is not None

    @property
    def owes(self) -> str:
        """What keeps the night open, in one sentence; empty when nothing does."""
        if self.permit is None:
            return ""
        if not self.is_signed:
            return f"{self.permit.watcher} has not signed the end of the fire watch."
        if self.permit.second_look_minutes and self.permit.looked_again_at is None:
            return "The permit orders a second look after the watch, and nobody has signed it."
        return ""

    def why_no_arc(self, now: datetime) -> str:
        """Why no spark may be struck at that moment; empty when no rule here stops it."""
        permit = self.permit
        if permit is None:
            return "No permit is open tonight."
        if self.night.status != Night.Status.PLANNED:
            return f"The night is {self.night.get_status_display()}."
        if self.open_points:
            return f"Not answered with yes: {self.open_points[0].point.words}."
        if self.turn is None:
            return "Nobody keeps the fire watch: all sparks stop until somebody does."
        if permit.is_last_called:
            return "The last spark was called."
        if not moment(self.night, self.night.doors) <= now < self.latest_spark:
            local = self.latest_spark.astimezone(self.night.shop.zone)
            return f"Sparks are for tonight alone, until {local:%H:%M}."
        return ""


def unbroken_since(turns: tuple[WatchTurn, ...]) -> datetime | None:
    """Since when somebody has watched without a gap, up to the latest turn; none: nobody did."""
    since: datetime | None = None
    for turn in reversed(turns):
        if since is not None and (turn.until_at is None or turn.until_at < since):
            break
        since = turn.from_at
    return since


def hot_work_of(night: Night) -> HotWork:
    """The hot work of a night: seven queries; four where no permit was opened."""
    rows = HotWorkPermit.objects.filter(night=night).select_related("watcher", "room")
    permit = rows.prefetch_related("stations").first()
    rules = rules_of(night.shop)
    minutes = permit.watch_minutes if permit else rules.watch_minutes
    after = permit.second_look_minutes if permit else rules.watch_after_minutes
    answers = {row.point: row for row in PermitAnswer.objects.filter(night=night)}
    return HotWork(
        night=night,
        permit=permit,
        asked=tuple(Asked(each, answers.get(each.key)) for each in points_of(night.shop)),
        turns=tuple(permit.turns.select_related("person")) if permit else (),
        sparks=tuple(permit.sparks.select_related("station")) if permit else (),
        notes=tuple(permit.notes.all()) if permit else (),
        # The shorter code is the frame; the club's own rule gives the minutes, never fewer.
        watch=Watch(FireCode.OSHA, minutes=max(30, minutes), monitoring_minutes=min(180, after)),
    )


def last_spark_at(night: Night) -> datetime:
    """After when no arc is struck: the last spark once called, else lock-up less the watch."""
    found = hot_work_of(night)
    is_called = found.permit is not None and found.permit.is_last_called
    return found.last_spark if is_called and found.last_spark else found.latest_spark


def is_arc_allowed(night: Night, now: datetime) -> bool:
    """Whether no rule of the permit stops a spark at that moment; the gate is asked apart."""
    return not hot_work_of(night).why_no_arc(now)


def lock_up_from(night: Night) -> datetime:
    """The earliest lock-up of the night, moved by sparks and by gaps in the watch."""
    return hot_work_of(night).lock_up


def moved_lock_up(night: Night) -> datetime | None:
    """When lock-up is now that sparks have moved it; none where they have not.

    One query without sparks, eight with.
    """
    if not HotWorkPermit.objects.filter(night=night, last_spark_at__isnull=False).exists():
        return None
    found = hot_work_of(night)
    return found.lock_up if found.is_later else None


def unread_before(night: Night) -> HandOver | None:
    """The hand-over of the night before while nobody has marked it as read. One query."""
    before = HandOver.objects.filter(night__shop=night.shop, night__date__lt=night.date)
    row = before.select_related("night").order_by("-night__date").first()
    return row if row and row.read_at is None else None
