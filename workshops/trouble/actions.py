"""Reporting what happened, adding to it, reopening, and the day after. All atomic.

The report is saved whatever else is missing; closing the station goes with it.
"""

from __future__ import annotations

import uuid
from collections.abc import Collection, Iterable
from dataclasses import dataclass, field
from datetime import datetime
from uuid import UUID, uuid5

from django.db import transaction

from workshops.access.models import User
from workshops.club.queries import rules_of
from workshops.nights.actions import stop_work
from workshops.nights.clock import moment
from workshops.nights.models import Night, Placing
from workshops.people.actions import hold_register, set_bar
from workshops.people.gate import Doing, register_on
from workshops.people.models import Person
from workshops.people.refusals import AlreadyBarred
from workshops.stations.actions import reopen_station, take_out_of_service
from workshops.stations.models import Level, Station, StationStop, Tool
from workshops.trouble.models import Addition, DayAfter, StoodThere, Trouble
from workshops.trouble.refusals import TroubleRefused

__all__ = [
    "Closing", "Report", "Told", "TroubleRefused", "add_words", "ask_day_after", "let_see_a_lead",
    "reopen", "report",
]  # fmt: skip

Kind = Trouble.Kind


class Closing:
    """How a station is closed by a report."""

    OPEN, TONIGHT, UNTIL_REOPENED = "open", "tonight", "reopened"
    ALL = (UNTIL_REOPENED, TONIGHT, OPEN)


@dataclass(frozen=True)
class Report:
    """What somebody tells within a minute; all but the kind may be empty."""

    kind: str
    reported_by: str
    station: Station | None = None
    what: str = ""
    people: Collection[Person] = ()
    tool: Tool | None = None
    closing: str = Closing.OPEN
    client_key: UUID = field(default_factory=uuid.uuid4)


@dataclass(frozen=True, slots=True)
class Told:
    """The report as it is kept, and who was taken out of the plan by it."""

    trouble: Trouble
    taken_out: tuple[Placing, ...] = ()


@transaction.atomic
def report(*, night: Night, told: Report, by: User | None, at: datetime) -> Told:
    """Keep what happened, close its station and take its tool out of service.

    Sent again with its key it is the same report, and nothing is closed twice.

    Raises
    ------
    TroubleRefused
        For an unknown kind, a name missing, or something of another shop.
    """
    Night.objects.select_for_update().get(pk=night.pk)
    already = Trouble.objects.filter(shop=night.shop, client_key=told.client_key).first()
    if already is not None:
        return Told(already)
    _refuse_nonsense(night, told)
    standing = _standing(night, told.station, at)
    taken, stop = _closed(night, told, at)
    row = Trouble.objects.create(
        shop=night.shop, night=night, kind=told.kind, station=told.station, at=at,
        what=told.what.strip()[:200], stop=stop, tool=_out_of_service(told, by, at),
        reported_by=told.reported_by.strip()[:80], by=by, recorded_at=at,
        client_key=told.client_key,
    )  # fmt: skip
    row.people.set(told.people)
    StoodThere.objects.bulk_create(
        StoodThere(
            trouble=row, person=each.person, starts=moment(night, each.block.starts),
            ends=min(at, moment(night, each.block.ends)) if stop else None,
        )
        for each in standing
    )  # fmt: skip
    return Told(row, taken)


def _refuse_nonsense(night: Night, told: Report) -> None:
    if told.kind not in Kind.values:
        raise TroubleRefused("What happened: choose one of the four.")
    if not told.reported_by.strip():
        raise TroubleRefused("Reported by: write who tells it.")
    things = [told.station, told.tool, *told.people]
    if any(each is not None and each.shop_id != night.shop_id for each in things):
        raise TroubleRefused("Station, tool and people must be of this shop.")


def _standing(night: Night, station: Station | None, at: datetime) -> list[Placing]:
    """Who is placed at the station at that moment; in a break, who stood there before it."""
    if station is None:
        return []
    local = at.astimezone(night.shop.zone).time()
    block = night.blocks.filter(starts__lte=local).order_by("-starts").first()
    if block is None:
        return []
    rows = Placing.objects.filter(block=block, station=station)
    return list(rows.select_related("person", "block"))


def _closed(
    night: Night, told: Report, at: datetime
) -> tuple[tuple[Placing, ...], StationStop | None]:
    if told.station is None or told.closing == Closing.OPEN:
        return (), None
    stopped = stop_work(
        night=night, station=told.station, reason=_reason(told), stopped_by=told.reported_by, at=at,
        tonight_only=told.closing == Closing.TONIGHT, client_key=uuid5(told.client_key, "stop"),
    )  # fmt: skip
    return stopped.taken_out, stopped.stop


def _reason(told: Report) -> str:
    # It stands on the board and on cards: of somebody hurt no more than that is told there.
    label = str(Kind(told.kind).label)
    is_told = told.kind != Kind.HURT and told.what.strip()
    return f"{label}: {told.what.strip()}"[:200] if is_told else label


def _out_of_service(told: Report, by: User | None, at: datetime) -> Tool | None:
    if told.tool is None:
        return None
    tool = Tool.objects.select_for_update().get(pk=told.tool.pk)
    # One that is out already must not keep the report from being saved.
    if tool.out_of_service < tool.count:
        # Everybody reads the fault of a tool, so it says of somebody hurt as little as the board.
        take_out_of_service(tool=tool, fault=_reason(told), by=by, at=at)
    return tool


@transaction.atomic
def add_words(
    *, trouble: Trouble, words: str, written_by: str, at: datetime, client_key: UUID | None = None
) -> Addition:
    """Add to what was told; sent again with its key it is added once.

    Raises
    ------
    TroubleRefused
        Without words or a name.
    """
    key = client_key or uuid.uuid4()
    already = Addition.objects.filter(trouble=trouble, client_key=key).first()
    if already is not None:
        return already
    if not words.strip() or not written_by.strip():
        raise TroubleRefused("Write what is to be added, and who adds it.")
    return Addition.objects.create(
        trouble=trouble, words=words.strip()[:1000], written_by=written_by.strip()[:80], at=at,
        client_key=key,
    )  # fmt: skip


@transaction.atomic
def reopen(
    *, stop: StationStop, lead: Person | None, why: str, by: User, at: datetime
) -> StationStop:
    """Open a station again, by a named lead with a reason.

    Where the station has leads on the register, one of them is named; else whoever runs the
    night opens it under their own name.

    Raises
    ------
    TroubleRefused
        When the station has leads and none of them is named.
    workshops.stations.actions.StationsRefused
        Without a reason, or when it was reopened before.
    """
    leads = leads_of(stop.station, at)
    if leads and (lead is None or lead.pk not in leads):
        raise TroubleRefused(f"Name one of those who may lead at {stop.station}: they looked.")
    name = str(lead) if lead and leads else by.signs_as
    return reopen_station(stop=stop, why=why, reopened_by=name, at=at)


def leads_of(station: Station, at: datetime) -> list[int]:
    """Ids of those who may lead at a station that day, by the register. Eight queries.

    Empty for a station that nobody is signed off for.
    """
    if not station.level_needed or not station.is_in_use:
        return []
    today = at.astimezone(station.shop.zone).date()
    return register_on(station.shop, today).who_may(station.pk, Doing.LEADS)


@transaction.atomic
def let_see_a_lead(*, trouble: Trouble, by: User, at: datetime) -> list[Person]:
    """Whoever works alone at the station goes on beside a lead until somebody reviews it.

    Offered where the club's rule says so, after an injury, and done by a press. Whoever may
    lead there leads on. Gives those it was set for; it is lifted person by person.

    Raises
    ------
    TroubleRefused
        When the club has no such rule, nobody was hurt, or the station has no leads.
    """
    station = trouble.station
    if not rules_of(trouble.shop).see_lead_after_injury:
        raise TroubleRefused("The club's rules do not say that. Decide it under Rules first.")
    if station is None or trouble.kind != Kind.HURT or not has_leads(station):
        raise TroubleRefused("Only where somebody was hurt at a station that has leads.")
    hold_register(trouble.shop)
    day = trouble.at.astimezone(trouble.shop.zone).date()
    reason = f"somebody was hurt at {station} on {day.day} {day:%B}: a lead looks again first"
    found = []
    for person in _work_alone(station, at):
        try:
            set_bar(
                person=person, station=station, reason=reason, only_with_a_lead=True, by=by, at=at
            )
        except AlreadyBarred:
            continue
        found.append(person)
    return found


def has_leads(station: Station) -> bool:
    """Whether learners stand beside a lead there."""
    return (station.level_needed or 0) >= Level.WITH_A_LEAD


def _work_alone(station: Station, at: datetime) -> Iterable[Person]:
    today = at.astimezone(station.shop.zone).date()
    register = register_on(station.shop, today)
    alone = [
        facts.id
        for facts in register.people.values()
        if (signed := facts.current(station.pk, today)) and signed.level == Level.ALONE
    ]
    return Person.objects.filter(pk__in=alone).select_related("shop").order_by("pk")


@transaction.atomic
def ask_day_after(
    *,
    night: Night,
    person: Person,
    answer: str,
    told: str,
    asked_by: str,
    at: datetime,
    words: str = "",
    client_key: UUID | None = None,
) -> DayAfter:
    """Keep how somebody is the day after; a later answer is a new row.

    Raises
    ------
    TroubleRefused
        For an unknown answer, nobody's name, or a person of another shop.
    """
    key = client_key or uuid.uuid4()
    already = DayAfter.objects.filter(shop=night.shop, client_key=key).first()
    if already is not None:
        return already
    if answer not in DayAfter.Answer.values or not asked_by.strip():
        raise TroubleRefused("Press one of the three answers.")
    if person.shop_id != night.shop_id:
        raise TroubleRefused(f"{person} is not on this shop's list.")
    return DayAfter.objects.create(
        shop=night.shop, night=night, person=person, answer=answer, words=words.strip()[:200],
        told=told[:300] if answer == DayAfter.Answer.NOT_WELL else "",
        asked_by=asked_by.strip()[:80], at=at, client_key=key,
    )  # fmt: skip
