"""Who may stand where, said a second time: plain readings of the rows, without the gate's code."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable
from datetime import date, datetime, timedelta
from functools import cache
from typing import Any, NamedTuple
from zoneinfo import ZoneInfo

from django.db import connection
from django.db.models import Model

from workshops.nights.models import HotWorkPermit, Placing
from workshops.people.models import Bar, Lifetime, Person, Review, SignOff, Use
from workshops.stations.models import Station

ZONE = ZoneInfo("America/Chicago")  # of the shop that is tried


class Line(NamedTuple):
    pk: int
    person: int
    station: int
    level: int
    signed_on: date
    valid_until: date | None
    signed_by: int | None


class Stop(NamedTuple):
    person: int
    station: int | None
    set_at: datetime
    until: date | None
    lifted_at: datetime | None
    only_with_a_lead: bool


class Worked(NamedTuple):
    pk: int
    person: int
    station: int
    day: date
    with_a_lead: bool


class Stand(NamedTuple):
    pk: int
    person: int
    station: int
    role: str
    on: date
    status: str
    shop: int


class Watch(NamedTuple):
    pk: int
    person: int
    on: date
    status: str
    shop: int


class Rows:
    """Everything of the register and of who stands where, read once."""

    def __init__(self) -> None:
        self.lines = [Line(*row) for row in _read(
            SignOff, "pk", "person", "station", "level", "signed_on", "valid_until", "signed_by"
        )]  # fmt: skip
        self.lines_at: defaultdict[tuple[int, int], list[Line]] = defaultdict(list)
        for line in self.lines:
            self.lines_at[line.person, line.station].append(line)
        # The verdict that ended it, and the day from which it counts no more.
        self.ended = {
            line: (verdict, on)
            for line, verdict, on in _read(Review, "sign_off", "verdict", "on")
            if verdict != "stands"
        }
        self.stops = [Stop(*row) for row in _read(
            Bar, "person", "station", "set_at", "until", "lifted_at", "only_with_a_lead"
        )]  # fmt: skip
        self.lives = list(_read(Lifetime, "station", "decided_on", "pk", "unused_months"))
        self.worked = [Worked(*row) for row in _read(
            Use, "pk", "person", "station", "day", "with_a_lead"
        )]  # fmt: skip
        self.people = {
            row[0]: row[1:] for row in _read(Person, "pk", "shop", "is_active", "born_on")
        }
        # Entries that were joined with another: the old one, and the one kept.
        self.joined = {
            gone: kept for gone, kept in _read(Person, "pk", "merged_into") if kept is not None
        }
        self.stations = {row[0]: row[1:] for row in _read(
            Station, "pk", "shop", "level_needed", "age_min", "kind"
        )}  # fmt: skip
        self.before = list(_read(Station.prerequisites.through, "from_station", "to_station"))
        self.stands = [Stand(*row) for row in _read(
            Placing, "pk", "person", "station", "role", "night__date", "night__status",
            "night__shop",
        )]  # fmt: skip
        self.watches = [Watch(*row) for row in _read(
            HotWorkPermit, "pk", "watcher", "night__date", "night__status", "night__shop"
        )]  # fmt: skip

    def level(self, person: int, station: int, on: date) -> int:
        """The level that counts on the day; 0 for none."""
        lines = [
            line
            for line in self.lines_at.get((person, station), ())
            if line.signed_on <= on and self.ended.get(line.pk, ("",))[0] != "mistake"
        ]
        last = max(lines, key=lambda line: (line.signed_on, line.pk), default=None)
        if last is None or (last.pk in self.ended and self.ended[last.pk][1] <= on):
            return 0
        if last.valid_until is not None and last.valid_until < on:
            return 0
        return 0 if self._is_unused(last, on) else last.level

    def _is_unused(self, line: Line, on: date) -> bool:
        decided = [row for row in self.lives if row[0] == line.station and row[1] <= on]
        months = max(decided, key=lambda row: row[1:3])[3] if decided else None
        if not months:
            return False
        days = [
            each.day
            for each in self.worked
            if (each.person, each.station) == (line.person, line.station) and each.day <= on
        ]
        # In days, generously: this asks whether the gate is lax, not whether it is exact.
        return on - max([line.signed_on, *days]) > timedelta(days=31 * months)

    def is_barred(self, person: int, station: int, on: date, *, is_learning: bool = False) -> bool:
        """Whether a bar or suspension stops that on the day."""
        return any(
            stop.person == person
            and stop.station in (None, station)
            and stop.set_at.astimezone(ZONE).date() <= on
            and (stop.until is None or stop.until >= on)
            and (stop.lifted_at is None or stop.lifted_at.astimezone(ZONE).date() > on)
            and not (stop.only_with_a_lead and is_learning)
            for stop in self.stops
        )

    def is_lawful(self, person: int, station: int, role: str, on: date) -> bool:
        """Whether somebody may stand at a station on a day in a role."""
        its_shop, is_active, born_on = self.people[person]
        shop, needed, age_min, _ = self.stations[station]
        is_learning = role == "learns"
        needed = min(needed or 0, 2) if is_learning else needed or 0
        before = [other for station_, other in self.before if station_ == station]
        return (
            its_shop == shop
            and is_active
            and self.level(person, station, on) >= needed
            and not self.is_barred(person, station, on, is_learning=is_learning)
            and all(self._holds(person, each, on) for each in before)
            and not (born_on and age_min and _age(born_on, on) < age_min)
        )

    def _holds(self, person: int, needed: int, on: date) -> bool:
        least = max(self.stations[needed][1] or 0, 1)
        barred = self.is_barred(person, needed, on, is_learning=True)
        return self.level(person, needed, on) >= least and not barred

    def may_sign(self, person: int, station: int, on: date) -> bool:
        """Whether somebody was an authoriser on the day."""
        return self.level(person, station, on) == 5 and not self.is_barred(person, station, on)

    def opened(self, before: Rows, gone: int, on: date) -> list[int]:
        """The stations at which somebody may more, now joined, than either entry before."""
        kept = self.joined[gone]
        return [
            station
            for station in self.stations
            if self.level(kept, station, on)
            > max(before.level(each, station, on) for each in (kept, gone))
            or any(before.is_barred(each, station, on) for each in (kept, gone))
            > self.is_barred(kept, station, on)
        ]

    def unlawful_stands(self) -> list[Stand]:
        """Every place in a planned night at which nobody should find them."""
        return [
            each
            for each in self.stands
            if each.status == "planned"
            and not (
                self.is_lawful(each.person, each.station, each.role, each.on)
                and self.stations[each.station][0] == each.shop
            )
        ]

    def unlawful_watches(self) -> list[Watch]:
        """Every permit of a planned night whose watcher may not watch."""
        at = {shop: pk for pk, (shop, _, _, kind) in self.stations.items() if kind == "fire_watch"}
        return [
            each
            for each in self.watches
            if each.status == "planned"
            and not self.is_lawful(each.person, at[each.shop], "watches", each.on)
        ]


def _read(model: type[Model], *columns: str) -> Any:
    return _reader(model, columns)()


@cache
def _reader(model: type[Model], columns: tuple[str, ...]) -> Callable[[], list[Any]]:
    """Asks for all rows as plain tuples, by a question that is put into SQL once.

    Thousands of steps are looked after, and wording the same ten questions anew for each cost
    more than the answers.
    """
    rows = model._default_manager.order_by().values_list(*columns)
    compiler = rows.query.get_compiler(connection=connection)
    sql, given = compiler.as_sql()
    converters = compiler.get_converters([column for column, _, _ in compiler.select])

    def read() -> list[Any]:
        with connection.cursor() as cursor:
            cursor.execute(sql, given)
            return list(compiler.apply_converters(cursor.fetchall(), converters))

    return read


def _age(born: date, on: date) -> int:
    return on.year - born.year - ((on.month, on.day) < (born.month, born.day))
