"""Who is on tonight's list: when they are here, what they are signed off for, what limits them."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from enum import Enum

LAST_MINUTE = 2 * 24 * 60  # a night may run past midnight


class Level(Enum):
    """How far a sign-off goes, lowest first.

    ``WITH_A_LEAD`` is what a learner holds: work beside somebody who may lead. ``MAY_SIGN``
    includes leading, leading includes working alone.
    """

    SHOWN_HOW = "shown_how"
    WITH_A_LEAD = "with_a_lead"
    ALONE = "alone"
    MAY_LEAD = "may_lead"
    MAY_SIGN = "may_sign"

    @property
    def rank(self) -> int:
        """0 for the lowest level, 4 for the highest."""
        return _RANKS[self]

    def covers(self, needed: Level | None) -> bool:
        """Whether this level is enough where ``needed`` is asked for (nothing asked: yes)."""
        return needed is None or self.rank >= needed.rank


_RANKS = {level: rank for rank, level in enumerate(Level)}


@dataclass(frozen=True, slots=True, order=True)
class Span:
    """From ``start`` to ``end``, in minutes after midnight of the night's date (0 to 2880)."""

    start: int
    end: int

    def __post_init__(self) -> None:
        if not 0 <= self.start < self.end <= LAST_MINUTE:
            raise ValueError(
                f"a span must run forward within 0 to {LAST_MINUTE} minutes, "
                f"not {self.start} to {self.end}"
            )

    @property
    def minutes(self) -> int:
        """How long it lasts."""
        return self.end - self.start

    def covers(self, start: int, end: int) -> bool:
        """Whether the whole stretch lies inside."""
        return self.start <= start and end <= self.end


@dataclass(frozen=True, slots=True)
class SignOff:
    """One line of the sign-off register.

    Parameters
    ----------
    station
        Id of the station (or of a training that is a prerequisite somewhere).
    level
        How far it goes.
    valid_until
        Last day on which it counts, as ``2031-01-16``; none: no end.
    """

    station: str
    level: Level
    valid_until: str | None = None

    def __post_init__(self) -> None:
        check_date(self.valid_until, "valid_until")


@dataclass(frozen=True, slots=True)
class Bar:
    """A person must not work at a station (none: at any), up to and with a day (none: no end)."""

    station: str | None = None
    reason: str = ""
    until: str | None = None

    def __post_init__(self) -> None:
        check_date(self.until, "until")


@dataclass(frozen=True, slots=True)
class Person:
    """One person tonight.

    Parameters
    ----------
    id, name
        Unlike everybody else's; the name is what sentences say.
    age
        Whole years on the night; none: an adult whose age was not asked.
    present
        When the person is in the building: arrival, leaving and longer absences make the
        spans. Somebody is placed only in blocks that lie wholly inside one span. Empty: on
        the list and not coming, so may be asked.
    breaks
        Indices of blocks (0 is the first) that the person sits out.
    no_dust, seated_only, no_heavy
        Personal limits, all hard.
    needs_company
        Asked for a hand when the alarm goes: never alone in a room, and never the fire watch.
    likes
        Ids of stations the person would like.
    guardians
        Ids of this minor's guardians who are on tonight's list; adults.
    sign_offs, bars
        At most one sign-off a station.
    rates
        Pace at a station against the operation's minutes: 1.0 is as timed, 2.0 twice as
        fast; above 0 up to 10. Left out: 1.0.
    last_stations
        Ids of the stations of the last nights, latest first: the plan likes a change.
    minutes_worked
        Already worked tonight before the first block (a re-plan from now); counts for minors.
    """

    id: str
    name: str
    age: int | None = None
    present: tuple[Span, ...] = ()
    breaks: tuple[int, ...] = ()
    no_dust: bool = False
    seated_only: bool = False
    no_heavy: bool = False
    needs_company: bool = False
    likes: tuple[str, ...] = ()
    guardians: tuple[str, ...] = ()
    sign_offs: tuple[SignOff, ...] = ()
    bars: tuple[Bar, ...] = ()
    rates: dict[str, float] = field(default_factory=dict)
    last_stations: tuple[str, ...] = ()
    minutes_worked: int = 0

    def __post_init__(self) -> None:
        check_id(self.id)
        if self.age is not None and not 0 <= self.age <= 130:
            raise ValueError(f"age must be 0 to 130, not {self.age}")
        if self.minutes_worked < 0:
            raise ValueError(f"minutes_worked must not be negative, not {self.minutes_worked}")
        for station, rate in self.rates.items():
            if not 0 < rate <= 10:
                raise ValueError(f"rates: {station} must be above 0 up to 10, not {rate}")
        signed = [sign_off.station for sign_off in self.sign_offs]
        check_once(signed, "sign_offs: station")
        self._put_in_order()

    def _put_in_order(self) -> None:
        """The order in which facts were typed must not matter; last_stations has a meaning."""
        put(self, "present", tuple(sorted(self.present)))
        put(self, "breaks", tuple(sorted(set(self.breaks))))
        put(self, "likes", tuple(sorted(set(self.likes))))
        put(self, "guardians", tuple(sorted(set(self.guardians))))
        put(self, "sign_offs", tuple(sorted(self.sign_offs, key=lambda each: each.station)))
        put(
            self,
            "bars",
            tuple(sorted(self.bars, key=lambda each: (each.station or "", each.until or ""))),
        )
        put(self, "rates", dict(sorted(self.rates.items())))

    @property
    def arrives(self) -> int:
        """First minute in the building; after every night for somebody not coming."""
        return self.present[0].start if self.present else LAST_MINUTE

    def is_present(self, start: int, end: int) -> bool:
        """Whether the person is in the building for the whole stretch."""
        return any(span.covers(start, end) for span in self.present)

    def is_adult(self, adult_age: int) -> bool:
        """Whether the club counts the person as an adult."""
        return self.age is None or self.age >= adult_age

    def rate(self, station: str) -> float:
        """Pace at the station; 1.0 is as the operation was timed."""
        return self.rates.get(station, 1.0)

    def sign_off(self, station: str) -> SignOff | None:
        """The line of the register for the station, current or not."""
        return next((each for each in self.sign_offs if each.station == station), None)


def put(instance: object, name: str, value: object) -> None:
    """Set a field of a frozen dataclass while it is being born."""
    object.__setattr__(instance, name, value)


def check_id(identity: str) -> None:
    """Refuse an empty id."""
    if not identity.strip():
        raise ValueError("id must not be empty")


def check_date(day: str | None, name: str) -> None:
    """Refuse what is no ISO day."""
    if day is None:
        return
    try:
        date.fromisoformat(day)
    except ValueError:
        raise ValueError(f"{name} must be a day like 2031-01-16, not {day!r}") from None


def check_once(names: list[str], what: str) -> None:
    """Refuse a name that stands twice."""
    seen: set[str] = set()
    for name in names:
        if name in seen:
            raise ValueError(f"{what} {name!r} stands twice")
        seen.add(name)
