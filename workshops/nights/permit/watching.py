"""Whether somebody may take the watch now: the gate, and the rules of whole plans."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from workshops.nights.clock import minutes, minutes_of
from workshops.nights.engine.board import Board
from workshops.nights.engine.placings import Watching
from workshops.nights.engine.rules_night import fire_watch_only
from workshops.nights.loading import load
from workshops.nights.models import Night
from workshops.nights.refusals import NightRefused
from workshops.people.gate import may
from workshops.people.models import Person
from workshops.stations.models import Station


def watch_station(night: Night) -> Station:
    """The station of the fire watch.

    Raises
    ------
    NightRefused
        When the shop has none, or it is closed tonight.
    """
    station = Station.objects.filter(shop=night.shop, kind=Station.Kind.FIRE_WATCH).first()
    if station is None:
        raise NightRefused("Set up the fire watch as a station first: it has its own sign-off.")
    if stop := station.stopped_on(night.date):
        raise NightRefused(f"{station} is closed: {stop.told}.")
    return station


def check_may_watch(night: Night, person: Person, at: datetime) -> None:
    """Refuse whom the gate refuses, and whoever has something else to do.

    Raises
    ------
    NightRefused
        With every reason.
    """
    answer = may(person, watch_station(night), night.date, doing="watches")
    told = [reason.text for reason in answer.reasons] if not answer.ok else []
    told = told or list(dict.fromkeys(_other_work(night, person, at)))
    if told:
        raise NightRefused(" ".join(told))


def _other_work(night: Night, person: Person, at: datetime) -> Iterator[str]:
    loaded, now = load(night), minutes_of(at, night)
    # The stretch that runs, or the one to come: what they do later is another turn's matter.
    index = next((n for n, row in enumerate(loaded.blocks) if minutes(row.ends) > now), None)
    problem = loaded.bare
    if index is None or str(person.pk) not in problem.person:
        return
    placed, _ = loaded.placed()
    span = problem.blocks[index]
    watch = Watching(str(person.pk), "", index, span.start, span.end)
    for breach in fire_watch_only(Board(problem, placed, (watch,))):
        yield breach.message
