"""What makes one hard rule tight on a night: each theme leaves it as the thing that costs work."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from workshops.nights.engine.people import Bar, Level, Person, SignOff
from workshops.nights.engine.problem import Problem

Theme = Callable[[Problem], Problem]
SHOWN = ("roll", "fill", "bend", "ring", "wire")


def small_floor(problem: Problem) -> Problem:
    """The floor holds four."""
    return replace(problem, floor_places=4)


def one_of_each_tool(problem: Problem) -> Problem:
    """Every tool is there once, and two of each station would like it."""
    tools = tuple(replace(each, count=1, out_of_service=0) for each in problem.tools)
    stations = tuple(
        replace(each, tools={"vise": 1}) if each.id in ("drill", "saw", "fill") else each
        for each in problem.stations
    )
    return replace(problem, tools=tools, stations=stations)


def many_young(problem: Problem) -> Problem:
    """Most are fifteen, and may do much; few adults are free for them, and not for long."""
    return _aged(problem, 15, minors_per_adult=1, minor_max_minutes=45, guardian_required=False)


def young_without_guardian(problem: Problem) -> Problem:
    """Most are fifteen, their guardians are at home, and the club wants them here."""
    return _aged(problem, 15, minors_per_adult=9, minor_max_minutes=None, guardian_required=True)


def one_warm_hall(problem: Problem) -> Problem:
    """Steel and straw share one room."""
    rooms = tuple(replace(each, room="hall") for each in problem.stations)
    return replace(problem, stations=rooms, locks=())


def young_at_machines(problem: Problem) -> Problem:
    """Most are fifteen and signed off for the machines, which ask for more years."""
    return _aged(problem, 15, minors_per_adult=20, minor_max_minutes=None, guardian_required=False)


def _aged(problem: Problem, age: int, **club: object) -> Problem:
    people = tuple(
        replace(_signed(each, *SHOWN, "drill"), age=age, guardians=(), no_dust=False)
        if number % 4
        else each
        for number, each in enumerate(problem.people)
    )
    return replace(problem, people=people, club=replace(problem.club, **club))  # type: ignore[arg-type]


def young_watch(problem: Problem) -> Problem:
    """The only one with the extinguisher training is sixteen."""
    people = tuple(
        replace(_signed(each, "watch"), age=16, guardians=(), breaks=())
        if number == 4
        else replace(each, sign_offs=tuple(s for s in each.sign_offs if s.station != "watch"))
        for number, each in enumerate(problem.people)
    )
    club = replace(problem.club, guardian_required=False, minor_max_minutes=None)
    return replace(problem, people=people, club=replace(club, minor_latest=None), locks=())


def barred_hands(problem: Problem) -> Problem:
    """Those who are signed off for most are barred from all work."""
    best = sorted(problem.people, key=lambda each: -len(each.sign_offs))[:4]
    people = tuple(
        replace(each, bars=(Bar(None, "a talk first"),)) if each in best else each
        for each in problem.people
    )
    return replace(problem, people=people, locks=())


def hands_at_the_alarm(problem: Problem) -> Problem:
    """Most asked for a hand when the alarm goes."""
    people = tuple(
        replace(each, needs_company=number % 4 != 0) for number, each in enumerate(problem.people)
    )
    return replace(problem, people=people, locks=())


def hoods_without_eyes(problem: Problem) -> Problem:
    """Wire is welded behind hoods, without sparks, in a room where nobody else works."""
    stations = tuple(
        replace(each, is_hot=False, room="booth") if each.id == "weld" else each
        for each in problem.stations
    )
    return replace(problem, stations=stations, locks=())


def built_on_another(problem: Problem) -> Problem:
    """Rolling and drilling ask for a sign-off at bending first."""
    stations = tuple(
        replace(each, prerequisites=("bend",)) if each.id in ("roll", "drill", "fill") else each
        for each in problem.stations
    )
    people = tuple(
        replace(each, sign_offs=tuple(s for s in each.sign_offs if s.station != "bend"))
        for each in problem.people
    )
    return replace(problem, people=people, stations=stations, locks=())


def as_it_is(problem: Problem) -> Problem:
    """Nothing more than the night has."""
    return problem


def _signed(person: Person, *stations: str) -> Person:
    held = {each.station for each in person.sign_offs}
    more = tuple(SignOff(each, Level.ALONE) for each in stations if each not in held)
    return replace(person, sign_offs=(*person.sign_offs, *more))


THEMES: tuple[Theme, ...] = (
    as_it_is, small_floor, one_of_each_tool, many_young, young_at_machines, young_watch,
    barred_hands, hands_at_the_alarm, hoods_without_eyes, built_on_another,
    young_without_guardian, one_warm_hall,
)  # fmt: skip
