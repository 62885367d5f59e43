"""What a gap costs, and what the others do without a spark: the placing engine asked again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from inventory.engines.stop import Seconds
from workshops.nights.engine import people as engine
from workshops.nights.engine.params import PlacingParams
from workshops.nights.engine.plan import Plan
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.solve import solve
from workshops.nights.loading import Loaded, load_making
from workshops.nights.worth import SET_POINTS
from workshops.stations.models import Station
from workshops.tonight.crews import Hand
from workshops.tonight.stations import Floor, Standing

STOP = Seconds(1.5)  # for each plan; thirty people take a third of a second
PARAMS = PlacingParams(gap=0.005)
NO_SPARKS = "no sparks tonight"
GROWN = 60  # of an age for every station


@dataclass(frozen=True, slots=True)
class Cost:
    """What tonight makes less for want of a station's people.

    ``sets`` are complete sets fewer tonight, ``worth`` the work lost, counted in sets: parts
    for the racks are part of a set's work. ``helpers`` are the people it takes. Not
    ``is_known`` when the time ran out for one of the two plans.
    """

    sets: float
    worth: float
    helpers: int
    seconds: float
    is_known: bool = True

    @property
    def is_little(self) -> bool:
        """Whether it is less than half a set's work."""
        return self.worth < 0.5

    @property
    def rounded(self) -> int:
        """Whole sets' work, as far as such a figure can be trusted."""
        return round(self.worth)

    @property
    def whole_sets(self) -> int:
        """Whole complete sets."""
        return int(self.sets + 1e-6)


@dataclass(frozen=True, slots=True)
class ColdLine:
    """One station of the cold plan: how many stand there at most, and what they make."""

    station: Station
    people: int
    makes: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class Cold:
    """The best night without a spark."""

    lines: tuple[ColdLine, ...]
    sets: int
    idle: int
    seconds: float

    @property
    def pieces(self) -> int:
        """Pieces of all kinds."""
        return sum(count for line in self.lines for _, count in line.makes)


def cost_of(floor: Floor, standing: Standing) -> Cost:
    """What the gap costs tonight: the best plan as it is against one with its people here.

    7 queries. The people who are missing are invented: they may work at this station, or keep
    its watch, and nowhere else, so that the figure is the station's and not that of more hands.
    """
    problem = _tonight(floor.board.loaded)
    helpers = _helpers(floor, standing)
    base = solve(problem, STOP, params=PARAMS)
    more = solve(replace(problem, people=(*problem.people, *helpers)), STOP, params=PARAMS)
    return Cost(
        sets=max(0.0, _sets(more) - _sets(base)),
        worth=max(0.0, more.output.worth - base.output.worth) / SET_POINTS,
        helpers=len(helpers),
        seconds=base.seconds + more.seconds,
        # Cut short, one of them is first come, first placed: that compares nothing.
        is_known=(base.is_searched and more.is_searched) or not more.output.worth,
    )


def cold_plan(floor: Floor) -> Cold:
    """The best plan of the night with every hot station shut. 7 queries."""
    loaded = floor.board.loaded
    problem = _tonight(loaded)
    stations = tuple(
        replace(each, closed_because=each.closed_because or NO_SPARKS) if each.is_hot else each
        for each in problem.stations
    )
    plan = solve(replace(problem, stations=stations), STOP, params=PARAMS)
    lines = (_cold_line(plan, row) for row in loaded.stations)
    return Cold(
        tuple(line for line in lines if line.people),
        sets=int(_sets(plan) + 1e-6),
        idle=len({each.person for each in plan.idle}),
        seconds=plan.seconds,
    )


def _tonight(loaded: Loaded) -> Problem:
    return loaded.problem(making=load_making(loaded.night.shop))


def _sets(plan: Plan) -> float:
    before = plan.output.sets_before
    return sum(count - before.get(kind, 0.0) for kind, count in plan.output.sets.items())


def _cold_line(plan: Plan, station: Station) -> ColdLine:
    key = str(station.pk)
    blocks = range(len(plan.problem.blocks))
    there = [
        sum(each.station == key and each.block == block for each in plan.placings)
        for block in blocks
    ]
    return ColdLine(station, max(there, default=0), tuple(_makes(plan, key)))


def _makes(plan: Plan, station: str) -> Iterator[tuple[str, int]]:
    for operation in plan.problem.operations:
        runs = sum(plan.output.made.get(operation.id, ()))
        count = int(runs * operation.makes_count + 1e-6)
        if operation.station == station and count:
            yield operation.name, count


def _helpers(floor: Floor, standing: Standing) -> list[engine.Person]:
    """Invented people, as many as make the crew full: for the bench first, then for the watch."""
    here = [hand for hand in standing.hands if hand.person in floor.expected]
    crew, found = standing.crew, list[Hand]()
    for number in range(1, crew.least + 2):
        if crew.is_full([*here, *found]):
            break
        watches = standing.lacks_watch or number > crew.least
        found.append(Hand(-number, 1.0, leads=not watches, works=not watches, watches=watches))
    # A full crew that the plan has elsewhere: one more pair of hands tells what it is worth.
    found = found or [Hand(-1, 1.0, leads=True, works=True)]
    return [_invented(floor, standing.station, hand) for hand in found]


def _invented(floor: Floor, station: Station, hand: Hand) -> engine.Person:
    problem = floor.problem
    duty = problem.watch_station
    at = duty.id if hand.watches and duty else str(station.pk)
    place = problem.station[at]
    start = min((span.start for span in problem.blocks), default=0)
    return engine.Person(
        id=f"somebody{hand.person}",
        name="Somebody",
        age=GROWN,
        present=(engine.Span(start, problem.lock_up),) if start < problem.lock_up else (),
        sign_offs=tuple(
            engine.SignOff(each, engine.Level.MAY_LEAD) for each in (at, *place.prerequisites)
        ),
        bars=tuple(
            engine.Bar(station=each.id, reason="not what is asked")
            for each in problem.stations
            if each.id not in (at, *place.prerequisites)
        ),
    )
