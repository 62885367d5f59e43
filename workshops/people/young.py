"""Policies on young people that a club may adopt: hours, and machines kept from them.

Both copy federal rules that bind employment. They do not bind volunteers: a club that adopts
one does so as its own policy, and until it does neither stops anybody.

Source
------
29 CFR 570.35(a) for the hours; 29 CFR 570 subpart E (hazardous occupations orders) and 570.33
for the machines.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, time, timedelta

from workshops.stations.models import Station

Kind = Station.Kind

HOURS_UNDER = 16
MACHINES_UNDER = 18

# Order -> kinds of station whose machines it names.
SHAPING = frozenset({Kind.BEND, Kind.ROLL})
CUTTING = frozenset({Kind.CUT})
# Under 16 nothing that a motor drives, and no hot work: what is left is hand work.
BY_HAND = frozenset({Kind.FILL, Kind.TAG, Kind.RUNNER, Kind.GREETER, Kind.KITCHEN})
ORDERS = (
    (SHAPING, "nobody under 18 works at bending, rolling or shearing machines (copied from HO 8)"),
    (CUTTING, "nobody under 18 works at saws and shears (copied from HO 8 and HO 14)"),
)
NO_POWER = "those under 16 fill, tag and help, and work at no machine"


@dataclass(frozen=True, slots=True)
class Hours:
    """When somebody may work on a day, and how long."""

    earliest: time
    latest: time
    minutes_a_day: int
    minutes_a_week: int


def is_kept_from(kind: str, age: int) -> bool:
    """Whether the policy keeps somebody of that age from stations of the kind."""
    if age >= MACHINES_UNDER:
        return False
    if age < HOURS_UNDER:
        return kind not in BY_HAND
    return any(kind in kinds for kinds, _ in ORDERS)


def machine_words(kind: str, age: int) -> str:
    """What the policy says of that kind of station at that age."""
    named = next((words for kinds, words in ORDERS if kind in kinds), NO_POWER)
    return NO_POWER if age < HOURS_UNDER else named


def hours_on(day: date, age: int) -> Hours | None:
    """The hours of the policy on a day; None from 16 on, where it has no hours.

    Notes
    -----
    A Monday to Friday outside the summer counts as a school day and its week as a school
    week, holidays too: nobody here keeps a school calendar, and this errs to the shorter.
    """
    if age >= HOURS_UNDER:
        return None
    is_summer = is_in_summer(day)
    is_school_day = day.weekday() < 5 and not is_summer
    monday = day - timedelta(days=day.weekday())
    is_school_week = not all(is_in_summer(monday + timedelta(days=n)) for n in range(5))
    return Hours(
        earliest=time(7),
        latest=time(21) if is_summer else time(19),
        minutes_a_day=(3 if is_school_day else 8) * 60,
        minutes_a_week=(18 if is_school_week else 40) * 60,
    )


def is_in_summer(day: date) -> bool:
    """From June 1 to Labor Day, the first Monday of September, both included."""
    first = date(day.year, 9, 1)
    labor_day = first + timedelta(days=-first.weekday() % 7)
    return date(day.year, 6, 1) <= day <= labor_day
