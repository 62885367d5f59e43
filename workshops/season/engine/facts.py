"""Who may come, what is on its way, what has been, and by when: the facts beside the shop."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum

from workshops.season.engine import checks


class Answer(Enum):
    """What a person said about coming."""

    YES = "yes"
    NO = "no"
    MAYBE = "maybe"  # counts as no answer


@dataclass(frozen=True, slots=True)
class Person:
    """Who may come and what they may do.

    Parameters
    ----------
    asked, came
        Held nights on which the person was expected, and came, whatever they had answered.
    said_yes, came_after_yes, said_no, came_after_no
        The same for nights with an answer.
    answers
        Date to answer, for nights to come.
    alone, leads, learns
        Operations the person may work alone, may lead, may work beside a lead. A lead may
        always work alone.
    lapses
        Operation to the date from which the sign-off no longer holds.
    may_watch
        Whether the person holds the fire-watch sign-off.
    pace
        Operation to a multiple of the club's rate, 0.1 to 5; 1 where missing.
    """

    id: str
    title: str
    asked: int = 0
    came: int = 0
    said_yes: int = 0
    came_after_yes: int = 0
    said_no: int = 0
    came_after_no: int = 0
    answers: dict[str, Answer] = field(default_factory=dict)
    alone: tuple[str, ...] = ()
    leads: tuple[str, ...] = ()
    learns: tuple[str, ...] = ()
    lapses: dict[str, str] = field(default_factory=dict)
    may_watch: bool = False
    pace: dict[str, float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        checks.is_share(self.came, self.asked, "came", "asked")
        checks.is_share(self.came_after_yes, self.said_yes, "came_after_yes", "said_yes")
        checks.is_share(self.came_after_no, self.said_no, "came_after_no", "said_no")
        checks.each_in_range(self.pace.values(), 0.1, 5.0, "pace")
        for day in [*self.answers, *self.lapses.values()]:
            checks.is_date(day, "answers and lapses")


@dataclass(frozen=True, slots=True)
class Arrival:
    """Material on its way: ``late_days`` late with ``chance_late``."""

    item: str
    date: str
    quantity: int
    chance_late: float = 0.0
    late_days: int = 7

    def __post_init__(self) -> None:
        checks.is_date(self.date, "date")
        checks.in_range(self.quantity, 1, 10**9, "quantity")
        checks.in_range(self.chance_late, 0.0, 1.0, "chance_late")
        checks.in_range(self.late_days, 1, 366, "late_days")


@dataclass(frozen=True, slots=True)
class PastWork:
    """One operation on one past night: good and scrapped pieces, person-minutes spent."""

    operation: str
    good: int
    scrapped: int
    person_minutes: float

    def __post_init__(self) -> None:
        checks.in_range(self.good, 0, 10**6, "good")
        checks.in_range(self.scrapped, 0, 10**6, "scrapped")
        checks.in_range(self.person_minutes, 0.0, 10**6, "person_minutes")


@dataclass(frozen=True, slots=True)
class PastNight:
    """A night of this or an earlier winter: held or lost, how many came of those expected.

    Work at operations that the problem no longer has is passed over.
    """

    date: str
    held: bool = True
    asked: int = 0
    came: int = 0
    work: tuple[PastWork, ...] = ()

    def __post_init__(self) -> None:
        checks.is_date(self.date, "date")
        checks.is_share(self.came, self.asked, "came", "asked")


@dataclass(frozen=True, slots=True)
class Made:
    """Finished sets of this winter, counted at the end of a past night, all variants."""

    date: str
    finished: int

    def __post_init__(self) -> None:
        checks.is_date(self.date, "date")
        checks.in_range(self.finished, 0, 10**6, "finished")


@dataclass(frozen=True, slots=True)
class ReadyBy:
    """The band of dates by which the sets are wanted."""

    early: str
    late: str

    def __post_init__(self) -> None:
        checks.is_date(self.early, "early")
        checks.is_date(self.late, "late")
        if self.late < self.early:
            raise ValueError(f"late {self.late} lies before early {self.early}")


@dataclass(frozen=True, slots=True)
class IceOut:
    """A day on which the ice may have become too weak to carry, and its weight (more than 0)."""

    date: str
    weight: float = 1.0

    def __post_init__(self) -> None:
        checks.is_date(self.date, "date")
        checks.in_range(self.weight, 1e-9, 1e9, "weight")
