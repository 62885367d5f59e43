"""What the page of tonight shows."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cached_property
from uuid import UUID, uuid4

from workshops.nights.board import BoardView, lay_out
from workshops.nights.clock import minutes_of
from workshops.nights.coming import Coming
from workshops.nights.engine.board import spell_names
from workshops.nights.loading import load
from workshops.nights.models import Night, SignUp, TrainingDate
from workshops.nights.queries import names_in
from workshops.season.history import history_of
from workshops.season.queries import winter_of
from workshops.tonight.asking import Asking, Gap
from workshops.tonight.chances import beliefs, chances, doors_are_open, lateness_of
from workshops.tonight.crews import Hand
from workshops.tonight.fairness import asks_since, loads_of
from workshops.tonight.models import CalledOff, Told
from workshops.tonight.stations import LIKELY, Floor, Standing

MOST_NAMED = 6
A_WINTER = timedelta(days=200)  # looked back where the shop has begun no winter


@dataclass(frozen=True, slots=True)
class Line:
    """One station on the page; ``gap`` is none where nothing is missing."""

    standing: Standing
    hands: tuple[str, ...]
    more: int = 0
    hangs_on: str = ""
    alone: str = ""
    gap: Gap | None = None


@dataclass(frozen=True, slots=True)
class Comer:
    """Somebody who said that they come and is not in yet; ``tenths`` of ten such come."""

    coming: Coming
    tenths: int
    is_late: bool

    @property
    def key(self) -> UUID:
        """Another one for each form: a double press is one tap."""
        return uuid4()


@dataclass(frozen=True)
class Tonight:
    """Everything that the page of tonight shows."""

    board: BoardView
    floor: Floor
    asking: Asking
    has_doors_open: bool

    @property
    def night(self) -> Night:
        """The night."""
        return self.board.night

    @cached_property
    def lines(self) -> list[Line]:
        """Every station, in the order of the work."""
        return [self._line(standing) for standing in self.floor.standings]

    @cached_property
    def gaps(self) -> list[Line]:
        """The stations where somebody signed off is missing."""
        return [line for line in self.lines if line.gap]

    @cached_property
    def verdict(self) -> str:
        """Whether we can run, in a sentence."""
        if not self.floor.expected:
            return "Nobody has said yet that they come."
        able = [line.standing for line in self.lines if not line.standing.is_shut]
        closed = [each.station.name for each in able if each.state == "closed" and each.is_gap]
        short = [each.station.name for each in able if each.state == "short"]
        if able and all(each.state == "closed" for each in able):
            return "No: no station has its people."
        if closed:
            return f"Yes, but not {spell_names(closed)}."
        if short:
            return f"Yes, if {spell_names(short)} finds its people."
        return "Yes: nothing is missing."

    @property
    def is_cold(self) -> bool:
        """Whether hot work was meant for tonight and cannot be done."""
        hot = [each for each in self.floor.standings if each.station.is_spark and not each.is_shut]
        return bool(hot) and not any(each.crew.is_full(self._there(each)) for each in hot)

    def _there(self, standing: Standing) -> list[Hand]:
        return [hand for hand in standing.hands if hand.person in self.floor.expected]

    @cached_property
    def inside(self) -> int:
        """How many are in the building."""
        return sum(each.is_in for each in self.board.coming)

    @cached_property
    def comers(self) -> list[Comer]:
        """Those who come, or perhaps come, and are not in yet, the least likely first."""
        found = [self._comer(each) for each in self.board.coming if self._is_due(each)]
        return sorted(found, key=lambda each: (each.tenths, each.coming.short_name))

    @cached_property
    def mean(self) -> float:
        """How many will be here on average, the chances summed."""
        return sum(self.floor.chances.values())

    @property
    def _minute(self) -> int:
        return minutes_of(self.asking.now, self.night)

    def _is_due(self, coming: Coming) -> bool:
        return coming.in_at is None and coming.answer != SignUp.Answer.NO

    def _comer(self, coming: Coming) -> Comer:
        chance = self.floor.chances.get(coming.person_id, 0.0)
        due = coming.present[0].start if coming.present else None
        is_late = self.has_doors_open and due is not None and self._minute > due
        return Comer(coming, min(10, max(0, round(10 * chance))), is_late)

    def _line(self, standing: Standing) -> Line:
        names = self.board.names
        ready = [hand.person for hand in standing.hands if hand.works or hand.leads]
        # Where no sign-off is asked everybody may, which need not be told.
        ready = ready if standing.station.level_needed else []
        return Line(
            standing,
            tuple(self._said(person) for person in ready[:MOST_NAMED]),
            more=max(0, len(ready) - MOST_NAMED),
            hangs_on=spell_names(names[person] for person in standing.hangs_on),
            alone=self.asking.alone(standing),
            gap=self.asking.gap(standing) if standing.is_gap else None,
        )

    def _said(self, person: int) -> str:
        name = self.board.names[person]
        if person not in self.floor.expected:
            return f"{name} perhaps"
        late = self.floor.present_from(person)
        return f"{name} from {late}" if late else name


def tonight_of(night: Night, now: datetime) -> Tonight:
    """The night as it looks now: 23 queries for any size, one or two fewer before the doors."""
    board = lay_out(load(night))
    history = history_of(night.shop, night.date)
    is_open = doors_are_open(night, board.coming, now)
    people = [facts.id for facts in board.loaded.register.people.values() if facts.is_active]
    found = chances(
        night, board.coming, beliefs(history, people), now=now,
        lateness=lateness_of(night) if is_open else None,
    )  # fmt: skip
    since = winter_since(night)
    asks = asks_since(night.shop, since)
    floor = Floor(
        board, found, least=LIKELY if is_open else 0.0,
        since=minutes_of(now, night) if is_open else 0,
    )  # fmt: skip
    asking = Asking(
        floor,
        loads_of(asks, history, night=night.pk, since=since),
        [ask for ask in asks if ask.night_id == night.pk],
        now,
    )
    return Tonight(board, floor, asking, is_open)


def winter_since(night: Night) -> date:
    """The day on which the winter of a night began. 1 query."""
    winter = winter_of(night.shop, night.date)
    if winter and winter.starts_on <= night.date <= winter.ends_on:
        return winter.starts_on
    return night.date - A_WINTER


def called_off(night: Night) -> CalledOff | None:
    """That a night was called off by its page, or None. 1 query."""
    return CalledOff.objects.filter(night=night).select_related("moved_to").first()


@dataclass(frozen=True)
class Off:
    """A night that is off: where its people went, who was told, who must be rung."""

    row: CalledOff | None
    untold: tuple[str, ...]
    written: tuple[str, ...]
    rung: tuple[str, ...]
    ring: tuple[tuple[Told, str], ...]
    training: tuple[str, ...]


def off_of(night: Night) -> Off:
    """What there is to do about a night that is off. 5 queries."""
    names, told = names_in(night.shop), told_of(night)
    known = {row.person_id for row in told}
    rows = SignUp.objects.filter(night=night, answer__in=(SignUp.Answer.YES, SignUp.Answer.MAYBE))
    lines = TrainingDate.objects.filter(night=night).select_related("station")
    return Off(
        row=called_off(night),
        untold=tuple(sorted(names[row.person_id] for row in rows if row.person_id not in known)),
        written=tuple(names[row.person_id] for row in told if row.has_email),
        rung=tuple(names[row.person_id] for row in told if row.told_at and not row.has_email),
        ring=tuple((row, names[row.person_id]) for row in told if row.told_at is None),
        training=tuple(
            f"{names[row.learner_id]} at {row.station}, beside {names[row.lead_id]}"
            for row in lines
        ),
    )


def told_of(night: Night) -> list[Told]:
    """Who was told that a night is off, by first name. 1 query."""
    rows = Told.objects.filter(night=night).select_related("person")
    return list(rows.order_by("person__first_name", "person__last_name", "pk"))
