"""How fast and how sure nights are placed, re-planned and explained, over seeded nights.

Run by ``python3 manage.py bench``; never part of the ordinary tests.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace
from statistics import median

from inventory.engines.stop import Seconds
from tests.bench.placing_nights import night
from tests.bench.saved_nights import saved
from workshops.nights.engine.output import Output
from workshops.nights.engine.params import PlacingParams
from workshops.nights.engine.plan import Plan, Proof
from workshops.nights.engine.problem import Problem
from workshops.nights.engine.solve import solve
from workshops.nights.engine.why import why_closed

Rows = list[tuple[str, str, str]]
PATIENCE = Seconds(20)
WITHIN_ONE_PERCENT = PlacingParams(gap=0.01)


def run() -> Rows:
    """What was measured, the figure, the target."""
    return [
        *_sizes(),
        *_scarce(),
        *_replans("one of them", _anybody),
        *_replans("the busiest welder", _welder),
        *_explanations(),
        *_saved(),
    ]


def _sizes() -> Rows:
    rows = [
        _size((12, 3, 7), 20, PlacingParams(), "0.3 s"),
        _size((30, 4, 12), 20, PlacingParams(), "0.5 s"),
        _size((120, 6, 30), 10, WITHIN_ONE_PERCENT, "1 s"),
        _size((300, 8, 60), 5, WITHIN_ONE_PERCENT, "2 s"),
    ]
    return [row for several in rows for row in several]


def _size(size: tuple[int, int, int], seeds: int, params: PlacingParams, target: str) -> Rows:
    plans = [solve(night(seed, *size), PATIENCE, params=params) for seed in range(seeds)]
    _refuse_illegal(plans)
    proven = [plan for plan in plans if plan.proof is Proof.BEST]
    seconds = [plan.seconds for plan in plans]
    more = [plan.output.worth / plan.first_come - 1 for plan in plans if plan.first_come]
    what = f"placing {size[0]} people x {size[1]} blocks x {size[2]} benches"
    sure = f"{len(proven)} of {len(plans)} proven within {params.gap:.1%}"
    figure = f"median {median(seconds):.2f} s, longest {max(seconds):.2f} s, {sure}"
    return [
        (what, figure, f"{target} median"),
        (f"{what}: more than first come", f"median {median(more):.0%}", "0 % or more"),
    ]


def _scarce() -> Rows:
    """Fewer people than seats is the hard case: no target, an honest figure."""
    plans = [solve(night(seed, 16, 4, 12), Seconds(5)) for seed in range(10)]
    _refuse_illegal(plans)
    proven = sum(plan.proof is Proof.BEST for plan in plans)
    widest = max(plan.gap for plan in plans)
    figure = f"median {median(plan.seconds for plan in plans):.2f} s, {proven} of 10 proven"
    return [("placing 16 people at 12 benches, 5 s", f"{figure}, widest gap {widest:.2%}", "none")]


def _replans(who: str, choose: Callable[[Plan], str]) -> Rows:
    seconds, shares = [], []
    for seed in range(20):
        plan = solve(night(seed), PATIENCE)
        again = solve(_without(plan, choose(plan)), PATIENCE)
        _refuse_illegal([again])
        seconds.append(again.seconds)
        shares.append(len(again.changed) / len(again.problem.previous))
    what = f"re-plan of 30 people without {who}"
    return [
        (what, f"median {median(seconds):.2f} s, longest {max(seconds):.2f} s", "0.5 s median"),
        (f"{what}: changed", f"median {median(shares):.1%}, most {max(shares):.1%}", "5 % at most"),
    ]


def _anybody(plan: Plan) -> str:
    return plan.placings[len(plan.placings) // 2].person


def _welder(plan: Plan) -> str:
    welders = [each.person for each in plan.placings if each.station == "weld"]
    return max(sorted(set(welders)), key=welders.count) if welders else _anybody(plan)


def _without(plan: Plan, gone: str) -> Problem:
    people = plan.problem.people
    left = tuple(replace(each, present=()) if each.id == gone else each for each in people)
    return replace(plan.problem, people=left, previous=plan.as_known())


def _explanations() -> Rows:
    """Nobody may keep the watch and nobody may drill: four closed stations a night."""
    seconds = []
    for seed in range(20):
        problem = _crippled(night(seed))
        plan = solve(problem, PATIENCE)
        for station in ("weld", "saw", "grind", "drill"):
            started = time.perf_counter()
            why_closed(plan.board, plan.output, station)
            seconds.append(time.perf_counter() - started)
    figure = f"median {median(seconds):.3f} s, longest {max(seconds):.3f} s"
    return [("why a station of 30 people is closed", figure, "0.1 s")]


def _saved() -> Rows:
    """The sixty saved nights: as good as they were, and how much more than first come."""
    plans = [(each, solve(each.problem, PATIENCE)) for each in saved()]
    _refuse_illegal([plan for _, plan in plans])
    worse = sum(plan.output.worth < each.worth * 0.999 for each, plan in plans)
    more = [plan.output.worth / plan.first_come - 1 for _, plan in plans if plan.first_come > 1]
    sets = [sets_in(plan.output) - sets_in(plan.first_come_output) for _, plan in plans]
    gain = f"median {median(more):.0%} more worth, median {median(sets):.0f} sets more"
    return [
        ("60 saved nights: worse than saved by 0.1 %", f"{worse}", "0"),
        ("60 saved nights: against first come, first placed", gain, "0 % or more"),
    ]


def sets_in(output: Output) -> int:
    """Whole sets that an output adds."""
    before = output.sets_before
    return int(sum(n - before.get(kind, 0.0) for kind, n in output.sets.items()) + 1e-6)


def _crippled(problem: Problem) -> Problem:
    lost = {"watch", "drill"}
    people = tuple(
        replace(each, sign_offs=tuple(s for s in each.sign_offs if s.station not in lost))
        for each in problem.people
    )
    return replace(problem, people=people)


def _refuse_illegal(plans: list[Plan]) -> None:
    for plan in plans:
        if not plan.is_legal():
            raise AssertionError(f"a measured plan breaks rules: {plan.breaches}")
