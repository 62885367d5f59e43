"""Seeded nights to place, from a small club's to a build day's: used by tests and measurements.

Every hard rule has something to bite on: two rooms, a fire watch, minors with a guardian,
lapsed and barred people, learners, personal limits, late arrivals, shared tools, racks that
run dry and racks that overflow.
"""

from __future__ import annotations

import random

from workshops.nights.engine.people import Bar, Level, Person, SignOff, Span
from workshops.nights.engine.problem import ClubRules, Problem
from workshops.nights.engine.stations import Material, Operation, Piece, SetKind, Station, Tool

DATE = "2031-01-16"
DOORS = 18 * 60
NAMES = (
    "Ada", "Bo", "Cleo", "Dag", "Eli", "Fay", "Gus", "Hal", "Ida", "Jo",
    "Kit", "Lou", "Mo", "Nel", "Ola", "Pia", "Quin", "Rae", "Sol", "Tove",
)  # fmt: skip

# id, room, crew, level, further traits; the order in which a small shop gets its benches
_KINDS: list[tuple[str, str, tuple[int, int], Level | None, dict[str, object]]] = [
    ("weld", "steel", (1, 2), Level.ALONE,
     {"is_hot": True, "is_hooded": True, "needs_buddy": True, "min_age": 18,
      "tools": {"torch": 1}}),
    ("roll", "straw", (2, 3), Level.SHOWN_HOW, {"has_straw": True, "needs_buddy": True}),
    ("fill", "straw", (1, 3), Level.SHOWN_HOW, {"has_straw": True, "is_dusty": True}),
    ("drill", "steel", (1, 2), Level.ALONE, {"min_age": 16, "tools": {"vise": 1}}),
    ("saw", "steel", (1, 2), Level.ALONE,
     {"is_hot": True, "min_age": 18, "is_heavy": True, "tools": {"vise": 1}}),
    ("bend", "steel", (1, 2), Level.SHOWN_HOW, {"tools": {"vise": 1}}),
    ("ring", "straw", (1, 2), Level.SHOWN_HOW, {"can_sit": True, "tools": {"ringer": 1}}),
    ("grind", "steel", (1, 1), Level.ALONE,
     {"is_hot": True, "min_age": 18, "prerequisites": ("drill",)}),
    ("wire", "straw", (1, 2), Level.SHOWN_HOW, {"is_heavy": True}),
    ("pin", "steel", (1, 2), None, {"can_sit": True}),
    ("runner", "steel", (1, 2), None, {"wanted": 1}),
    ("kitchen", "hall", (1, 2), None, {"can_sit": True, "wanted": 1, "is_off_floor": True}),
]  # fmt: skip

_OPERATIONS = [
    ("saw_post", "saw", 6.0, "post", {}, {"tube": 10}),
    ("saw_stem", "saw", 4.0, "stem", {}, {"tube": 3}),
    ("drill_post", "drill", 5.0, "drilled", {"post": 1}, {}),
    ("bend_rod", "bend", 2.5, "rod", {}, {"rod_stock": 2}),
    ("weld_head", "weld", 14.0, "head", {"stem": 1, "rod": 2}, {}),
    ("grind_head", "grind", 4.0, "clean_head", {"head": 1}, {}),
    ("cut_wire", "wire", 4.0, "mat", {}, {"wire": 7}),
    ("roll_mat", "roll", 16.0, "roll", {"mat": 1}, {"straw": 2}),
    ("ring_roll", "ring", 7.0, "cylinder", {"roll": 1}, {"rings": 10}),
    ("fill_cylinder", "fill", 5.0, "filled", {"cylinder": 1}, {"hay": 3}),
    ("cut_pin", "pin", 2.0, "pin", {}, {"bar": 1}),
]
_PARTS = ("drilled", "clean_head", "filled", "pin")
_WORTH = {
    "post": 6, "stem": 4, "drilled": 12, "rod": 3, "head": 26, "clean_head": 32, "mat": 5,
    "roll": 22, "cylinder": 31, "filled": 38, "pin": 2,
}  # fmt: skip


def night(seed: int, people: int = 30, blocks: int = 4, benches: int = 12) -> Problem:
    """A night of the given size; the same seed gives the same night."""
    draw = random.Random(f"{seed}-{people}-{blocks}-{benches}")
    spans = _blocks(blocks)
    stations = _stations(benches)
    names = {station.id for station in stations}
    return Problem(
        date=DATE,
        blocks=spans,
        lock_up=spans[-1].end + draw.choice((15, 30)),
        club=ClubRules(watch_minutes=draw.choice((30, 60)), minor_latest=spans[-1].end - 10),
        people=tuple(_person(draw, i, people, spans) for i in range(people)),
        stations=stations,
        tools=_tools(stations),
        operations=tuple(
            Operation(name, station, name.replace("_", " "), minutes, makes, 1, uses, materials)
            for name, station, minutes, makes, uses, materials in _OPERATIONS
            if station in names
        ),
        pieces=_pieces(draw, people),
        materials=_materials(draw, people * blocks),
        sets=(
            SetKind("post_set", "Post set", 115, dict.fromkeys(_PARTS, 1)),
            SetKind("spare_set", "Spare", 78, {"clean_head": 1, "filled": 1}, wanted=people // 3),
        ),
        floor_places=max(6, int(people * 0.9)),
    )


def _blocks(count: int) -> tuple[Span, ...]:
    starts = [DOORS + 30 + i * 45 + (15 if i >= count / 2 else 0) for i in range(count)]
    return tuple(Span(start, start + 45) for start in starts)


def _stations(benches: int) -> tuple[Station, ...]:
    kinds = _KINDS[: min(benches, len(_KINDS))]
    counts = [benches // len(kinds) + (i < benches % len(kinds)) for i in range(len(kinds))]
    made = [
        Station(name, name.capitalize(), room, count, *crew, level, **traits)  # type: ignore[arg-type]
        for (name, room, crew, level, traits), count in zip(kinds, counts, strict=True)
    ]
    watch = Station("watch", "Fire watch", "steel", level_needed=Level.ALONE, is_fire_watch=True)
    return (*made, watch)


def _tools(stations: tuple[Station, ...]) -> tuple[Tool, ...]:
    wanted: dict[str, int] = {}
    for station in stations:
        for tool, count in station.tools.items():
            wanted[tool] = wanted.get(tool, 0) + count * station.benches
    return tuple(
        Tool(tool, tool, count, out_of_service=1 if tool == "vise" and count > 1 else 0)
        for tool, count in wanted.items()
    )


def _person(draw: random.Random, i: int, people: int, spans: tuple[Span, ...]) -> Person:
    name = f"{NAMES[i % len(NAMES)]} {i // len(NAMES) + 1}"
    is_minor = i > 1 and i % 15 == 7
    skill = 0.0 if is_minor else draw.random()
    return Person(
        id=f"p{i:03d}",
        name=name,
        age=draw.choice((14, 15, 16)) if is_minor else draw.choice((None, 19, 35, 60, 71)),
        present=(_stay(draw, spans),),
        breaks=(draw.randrange(len(spans)),) if draw.random() < 0.1 else (),
        no_dust=draw.random() < 0.05,
        seated_only=draw.random() < 0.04,
        no_heavy=draw.random() < 0.15,
        likes=tuple(sorted({draw.choice(_KINDS)[0] for _ in range(draw.randrange(3))})),
        sign_offs=_sign_offs(draw, i, skill, max(1, people // 12)),
        bars=(Bar("drill", "to be re-signed"),) if draw.random() < 0.04 else (),
        rates={kind[0]: round(draw.uniform(0.7, 1.4), 1) for kind in _KINDS[:10]},
        last_stations=tuple(draw.choice(_KINDS)[0] for _ in range(draw.randrange(3))),
    )


def _stay(draw: random.Random, spans: tuple[Span, ...]) -> Span:
    late = draw.random() < 0.15
    early = draw.random() < 0.15
    start = spans[min(1, len(spans) - 1)].start - 5 if late else DOORS
    return Span(start, spans[-1].end if early else spans[-1].end + 120)


def _sign_offs(draw: random.Random, i: int, skill: float, steady: int) -> tuple[SignOff, ...]:
    """Every club has a few old hands; most people know some stations, some know none."""
    levels: dict[str, tuple[Level, str | None]] = {}
    for name, _, _, needed, _ in _KINDS:
        if needed is Level.SHOWN_HOW and draw.random() < 0.3 + 0.6 * skill:
            levels[name] = (Level.SHOWN_HOW, None)
        elif needed is Level.ALONE and draw.random() < 0.15 + 0.35 * skill:
            level = draw.choice((Level.WITH_A_LEAD, Level.ALONE, Level.ALONE, Level.MAY_LEAD))
            levels[name] = (level, draw.choice(("2031-03-31", "2031-03-31", None, "2030-12-31")))
    if draw.random() < 0.1 + 0.3 * skill:
        levels["watch"] = (Level.ALONE, None)
    if i < 2 * steady:
        keys = ("weld", "drill", "grind") if i % 2 else ("saw", "watch", "drill")
        levels.update(dict.fromkeys(keys, (Level.MAY_LEAD, "2031-03-31")))
    return tuple(SignOff(name, level, until) for name, (level, until) in levels.items())


def _pieces(draw: random.Random, people: int) -> tuple[Piece, ...]:
    return tuple(
        Piece(
            name,
            name.replace("_", " "),
            worth,
            draw.randrange(people // 2 + 2),
            people * draw.choice((1, 2, 5)),
        )
        for name, worth in _WORTH.items()
    )


def _materials(draw: random.Random, size: int) -> tuple[Material, ...]:
    per_size = {"tube": 5, "rod_stock": 3, "wire": 4, "straw": 1, "rings": 6, "hay": 3, "bar": 1}
    return tuple(
        Material(name, name.replace("_", " "), int(size * each * draw.uniform(0.5, 3.0)))
        for name, each in per_size.items()
    )
