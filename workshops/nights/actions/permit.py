"""The hot-work permit: its points answered, opened for one night, and every spark told."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID, uuid4

from django.db import transaction

from inventory.places.models import Room, Shop
from workshops.club.queries import rules_of
from workshops.nights.actions.opened import hold
from workshops.nights.clock import moment
from workshops.nights.models import HotWorkPermit, Night
from workshops.nights.permit.models import PermitAnswer, PermitPoint, Spark, WatchTurn
from workshops.nights.permit.points import points_of
from workshops.nights.permit.queries import HotWork, hot_work_of
from workshops.nights.permit.watching import check_may_watch
from workshops.nights.refusals import NightRefused
from workshops.people.models import Person
from workshops.stations.models import Station


@dataclass(frozen=True, slots=True)
class Terms:
    """What a permit says beside its points: where, at which stations, what, and by whom."""

    room: Room
    stations: Sequence[Station]
    work: str
    extinguisher: str
    allowed_by: str
    key_with: str

    def missing(self, night: Night) -> str:
        """What is not there yet, in a sentence; empty when all is."""
        wanted = {
            "what is done": self.work, "which extinguisher is at hand": self.extinguisher,
            "who allows it": self.allowed_by, "who has the key": self.key_with,
        }  # fmt: skip
        for what, given in wanted.items():
            if not given.strip():
                return f"Write down {what}."
        if self.room.shop_id != night.shop_id:
            return "That room is not of this shop."
        hot = [row for row in self.stations if row.is_spark and row.shop_id == night.shop_id]
        return "" if hot and len(hot) == len(self.stations) else "Name the stations that spark."


@transaction.atomic
def answer_points(
    *, night: Night, answers: Mapping[str, bool], checked_by: str, at: datetime
) -> list[PermitAnswer]:
    """Write down what somebody found at some points; the latest answer of a point counts.

    Raises
    ------
    NightRefused
        When the night is over or cancelled, nobody is named, or a point is not asked here.
    """
    held = hold(night)
    asked = {point.key: point for point in points_of(held.shop)}
    if not checked_by.strip():
        raise NightRefused("Who looked? Each point is answered by name.")
    if unknown := set(answers) - set(asked):
        raise NightRefused(f"Not asked here: {', '.join(sorted(unknown))}.")
    return PermitAnswer.objects.bulk_create(
        PermitAnswer(
            night=held, point=key, words=asked[key].words, is_yes=is_yes, at=at,
            checked_by=checked_by.strip(),
        )
        for key, is_yes in answers.items()
    )  # fmt: skip


@transaction.atomic
def open_permit(
    *, night: Night, watcher: Person, opened_by: str, at: datetime, terms: Terms
) -> HotWorkPermit:
    """Open the night's hot-work permit, for this night alone, with a named fire watch.

    Raises
    ------
    NightRefused
        When the night is over or cancelled, a point is not answered with yes, something is not
        written down, the shop has no fire watch, the permit is open, the gate says no, or the
        watch has something else to do.
    """
    held = hold(night)
    if HotWorkPermit.objects.filter(night=held).exists():
        raise NightRefused("The permit of this night is open already.")
    check_may_watch(held, watcher, at)
    if missing := terms.missing(held) or _unanswered(hot_work_of(held)):
        raise NightRefused(missing)
    rules = rules_of(held.shop)
    permit = HotWorkPermit.objects.create(
        night=held, watcher=watcher, watch_minutes=rules.watch_minutes,
        second_look_minutes=rules.watch_after_minutes, room=terms.room, work=terms.work.strip(),
        extinguisher=terms.extinguisher.strip(), allowed_by=terms.allowed_by.strip(),
        key_with=terms.key_with.strip(), opened_by=opened_by, opened_at=at,
    )  # fmt: skip
    permit.stations.set(terms.stations)
    WatchTurn.objects.create(permit=permit, person=watcher, from_at=at)
    return permit


def _unanswered(found: HotWork) -> str:
    for each in found.open_points:
        if each.answer is not None:
            return f"{each.point.words}: no, says {each.answer.checked_by}. {each.point.if_no}"
    left = [each.point.words for each in found.open_points]
    return f"Not answered yet: {left[0]} ({len(left)} in all)." if left else ""


@dataclass(frozen=True, slots=True)
class Told:
    """A spark as it was written down, and what follows from it in one sentence."""

    spark: Spark
    says: str


@transaction.atomic
def tell_spark(
    *,
    night: Night,
    station: Station,
    struck_by: str,
    spark_at: datetime,
    at: datetime,
    told_by: str = "",
    client_key: UUID | None = None,
) -> Told:
    """Write down the last spark, or one that flew after it: then the watch starts again.

    It calls the last spark: no arc may follow. A later one takes off the signatures of the
    watch. Sent again with its key, it is the same spark.

    Raises
    ------
    NightRefused
        When the night is over or cancelled, no permit is open, the station makes no sparks,
        nobody is named, it is the watch, or the time is to come or before the doors opened.
    """
    held = hold(night)
    permit = HotWorkPermit.objects.select_related("watcher").filter(night=held).first()
    if permit is None:
        raise NightRefused(
            "Sparks flew and no permit is open: stop them, open the permit, name the watch, "
            "then write down the spark."
        )
    key = client_key or uuid4()
    same = Spark.objects.filter(permit=permit, client_key=key).select_related("station").first()
    if same is None:
        _check_spark(held, station, struck_by, spark_at=spark_at, at=at)
        _check_not_the_watch(permit, struck_by)
        same = Spark.objects.create(
            permit=permit, station=station, struck_by=struck_by.strip(), at=spark_at,
            is_late=permit.is_last_called, recorded_at=at, told_by=told_by, client_key=key,
        )  # fmt: skip
        _reopen(permit, spark_at)
    return Told(same, _follows(hot_work_of(held), same))


def _check_spark(
    night: Night, station: Station, struck_by: str, *, spark_at: datetime, at: datetime
) -> None:
    if station.shop_id != night.shop_id or not station.is_spark:
        raise NightRefused(f"{station} makes no sparks. Name the station at which they flew.")
    if not struck_by.strip():
        raise NightRefused("Who struck it? A spark is written down by name.")
    if spark_at < moment(night, night.doors):
        raise NightRefused(
            f"Last spark: the doors opened at {night.doors:%H:%M}, so it was not before."
        )
    if spark_at > at:
        raise NightRefused("That time is still to come. Write down when it really was.")


def _check_not_the_watch(permit: HotWorkPermit, struck_by: str) -> None:
    turn = WatchTurn.objects.filter(permit=permit, until_at=None).select_related("person").first()
    if turn and struck_by.strip().casefold() in (
        str(turn.person).casefold(), turn.person.short_name.casefold(),
    ):  # fmt: skip
        raise NightRefused(
            f"{turn.person} keeps the fire watch and strikes no sparks. Somebody else takes the "
            "watch first, from before that spark."
        )


def _reopen(permit: HotWorkPermit, spark_at: datetime) -> None:
    """The latest spark counts; what was signed before it counts no more."""
    fields = ["is_last_called"]
    permit.is_last_called = True
    if permit.last_spark_at is None or spark_at > permit.last_spark_at:
        permit.last_spark_at = spark_at
        permit.watch_ended_at, permit.watch_signed_by = None, ""
        permit.looked_again_at, permit.looked_again_by = None, ""
        fields += ["last_spark_at", "watch_ended_at", "watch_signed_by", "looked_again_at"]
        fields += ["looked_again_by"]
    permit.save(update_fields=fields)


def _follows(found: HotWork, spark: Spark) -> str:
    zone, permit = found.night.shop.zone, found.permit
    assert permit is not None  # the spark is of it
    until = found.watch_until
    ends = f"{until.astimezone(zone):%H:%M}" if until else ""
    kind = "A spark after the last" if spark.is_late else "The last spark"
    said = f"{kind}, {spark.at.astimezone(zone):%H:%M} at {spark.station} ({spark.struck_by}): "
    said += f"the watch {'starts again and ' if spark.is_late else ''}lasts until {ends}"
    if found.is_later:
        planned, later = found.night.lock_up, found.lock_up.astimezone(zone)
        said += f", lock-up moves from {planned:%H:%M} to {later:%H:%M}"
    said += f"; {permit.key_with} stays with the key" if permit.key_with else ""
    if found.turn is None:
        return f"{said}. Nobody keeps the watch now: name somebody at once."
    return f"{said}, and {found.turn.person} keeps the watch."


@transaction.atomic
def add_point(*, shop: Shop, words: str, if_no: str) -> PermitPoint:
    """Have the club ask one more point on every permit from now on.

    Raises
    ------
    NightRefused
        Without words, or without what to do when the answer is no.
    """
    if not words.strip() or not if_no.strip():
        raise NightRefused("Write what is asked, and what to do when the answer is no.")
    return PermitPoint.objects.create(shop=shop, words=words.strip(), if_no=if_no.strip())


@transaction.atomic
def drop_point(*, point: PermitPoint) -> None:
    """Ask one of the club's own points no more; what was answered stays."""
    point.is_in_use = False
    point.save(update_fields=["is_in_use"])
