"""Invented winters for the tests: a bare one to check by hand, and a whole shop."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import numpy as np

from workshops.season.engine.params import OutlookParams
from workshops.season.engine.problem import (
    IceOut,
    Item,
    Made,
    Night,
    NightKind,
    Operation,
    PastNight,
    PastWork,
    Person,
    Problem,
    ReadyBy,
    Station,
    Variant,
)

FIRST_NIGHT = date(2026, 12, 1)

# Nothing left to chance but what a test asks for.
CERTAIN = OutlookParams(
    winters=200,
    batch=200,
    night_spread=0.0,
    turnout_spread=0.0,
    turnout_mean=0.999,
    turnout_weight=10_000,
    lost_mean=0.001,
    lost_weight=10_000,
    scrap_mean=0.001,
    scrap_weight=10_000,
    rate_weight=10_000,
)


def night(index: int = 0, **changes: Any) -> Night:
    """A mixed night, one a week, two blocks of an hour, never lost."""
    day = (FIRST_NIGHT + timedelta(weeks=index)).isoformat()
    given: dict[str, Any] = {"blocks": (60, 60), "kind": NightKind.MIXED, "chance_lost": 0.0}
    return Night(date=day, **{**given, **changes})


def person(name: str, *skills: str, **changes: Any) -> Person:
    """Somebody who comes to every night and works alone at ``skills``."""
    given: dict[str, Any] = {"asked": 10**6, "came": 10**6, "alone": skills}
    return Person(id=name, title=name, **{**given, **changes})


def bare(**changes: Any) -> Problem:
    """One station, one operation of ten minutes a peg, one worker, a peg is a set."""
    given: dict[str, Any] = {
        "nights": (night(),),
        "stations": (Station("bench", "the bench", benches=1),),
        "items": (Item("rod", "rod", on_hand=10_000), Item("peg", "peg")),
        "operations": (Operation("turn", "turning", "bench", 10.0, "peg", {"rod": 1}),),
        "variants": (Variant("set", "set", {"peg": 1}, target=100),),
        "people": (person("Ana", "turn"),),
    }
    return Problem(**{**given, **changes})


def whole_shop(nights: int = 25, people: int = 45, seed: int = 1) -> Problem:
    """A shop of nine operations and six stations with a winter of history behind it."""
    dice = np.random.default_rng(seed)
    operations = nine_operations()
    return Problem(
        nights=tuple(_shop_night(index) for index in range(nights)),
        stations=(
            Station("saw", "the saw", benches=2),
            Station("drill", "the drill", benches=2),
            Station("bend", "the bender", benches=1),
            Station("weld", "welding", benches=2, crew_max=1),
            Station("roll", "rolling", benches=3, crew_min=2, crew_max=2),
            Station("fill", "filling", benches=4, crew_max=2),
        ),
        items=_shop_items(),
        operations=operations,
        variants=(
            Variant("short", "short post", {"short-post": 1, "head": 1, "nest": 1}, target=160),
            Variant("long", "long post", {"long-post": 1, "head": 1, "nest": 1}, target=80),
        ),
        people=tuple(_shop_person(index, dice) for index in range(people)),
        history=tuple(_past_night(index, operations, dice) for index in range(14)),
        made=(Made("2026-11-17", 0), Made("2026-11-24", 0)),
        ready_by=ReadyBy("2027-02-20", "2027-03-06"),
        ice=tuple(IceOut(f"2027-03-{day:02d}") for day in (2, 8, 12, 15, 19, 26)),
    )


def nine_operations() -> tuple[Operation, ...]:
    """From sticks of tube, rod and wire to posts, heads and filled nests."""
    return (
        Operation("cut-short", "cutting short posts", "saw", 4, "short-blank", {"tube": 2}),
        Operation("cut-long", "cutting long posts", "saw", 4, "long-blank", {"tube": 3}),
        Operation("drill-short", "drilling short", "drill", 6, "short-post", {"short-blank": 1}),
        Operation("drill-long", "drilling long", "drill", 6, "long-post", {"long-blank": 1}),
        Operation("cut-stem", "cutting stems", "saw", 3, "stem", {"tube": 1}),
        Operation("bend", "bending cradle rods", "bend", 3, "cradle", {"rod": 1}),
        Operation(
            "weld", "welding heads", "weld", 14, "head", {"stem": 1, "cradle": 2}, hot=True,
            learning=0.95, learned_at=40,
        ),
        Operation("roll", "rolling", "roll", 22, "cylinder", {"wire": 1, "straw": 2}, straw=True),
        Operation("fill", "filling", "fill", 8, "nest", {"cylinder": 1, "hay": 1}, straw=True),
    )  # fmt: skip


def without_chance_of_loss(problem: Problem) -> Problem:
    """The same winter with every night held."""
    held = tuple(replace(night, chance_lost=0.0) for night in problem.nights)
    return replace(problem, nights=held)


def _shop_night(index: int) -> Night:
    day = (FIRST_NIGHT + timedelta(days=7 * (index // 2) + 3 * (index % 2))).isoformat()
    kind = NightKind.STEEL if index % 5 in (0, 2) else NightKind.MIXED
    return Night(day, kind, (40, 40, 40), last_spark=90, watch_until=120)


def _shop_items() -> tuple[Item, ...]:
    bought = ("tube", "rod", "wire", "straw", "hay")
    parts = ("short-blank", "long-blank", "stem", "cradle", "cylinder")
    ends = ("short-post", "long-post", "head", "nest")
    return (
        *(Item(name, name, on_hand=3_000) for name in bought),
        *(Item(name, name, rack_limit=120) for name in parts),
        *(Item(name, name) for name in ends),
    )


def _shop_person(index: int, dice: np.random.Generator) -> Person:
    likely = dice.beta(2.5, 3.0)
    asked = int(dice.integers(0, 25))
    steel = ("cut-short", "cut-long", "cut-stem"), ("drill-short", "drill-long"), ("bend",)
    alone = ["fill", "roll"] if index % 4 else ["fill"]
    for row, names in enumerate(steel):
        alone += names if index % (4 + row) == row else ()
    alone += ["weld"] if index in (3, 8, 21, 30) else []
    return Person(
        id=f"person-{index:02d}",
        title=f"Person {index}",
        asked=asked,
        came=int(dice.binomial(asked, likely)),
        alone=tuple(alone),
        leads=("roll",) if index % 9 == 1 else (),
        learns=("roll",) if "roll" not in alone else (),
        may_watch=index % 6 == 2,
        pace={"weld": 1.3} if index == 8 else {},
    )


def _past_night(
    index: int, operations: tuple[Operation, ...], dice: np.random.Generator
) -> PastNight:
    day = (date(2026, 1, 6) + timedelta(weeks=index)).isoformat()
    if index in (4, 9):
        return PastNight(day, held=False)
    return PastNight(
        day, asked=45, came=int(dice.binomial(45, 0.45)),
        work=tuple(_past_work(operation, dice) for operation in operations),
    )  # fmt: skip


def _past_work(operation: Operation, dice: np.random.Generator) -> PastWork:
    minutes = float(dice.integers(90, 240))
    pieces = int(dice.poisson(minutes / operation.minutes * dice.gamma(25.0, 0.04)))
    scrapped = int(dice.binomial(pieces, 0.04))
    return PastWork(operation.id, pieces - scrapped, scrapped, minutes)
