"""For each hard rule a night that it allows and the same night with one fact against it."""

from __future__ import annotations

from dataclasses import dataclass

from tests.workshops.nights.engine.small import bench, night, person, watch
from workshops.nights.engine.people import Bar, Level, SignOff, Span
from workshops.nights.engine.placings import Lock
from workshops.nights.engine.problem import ClubRules, Problem
from workshops.nights.engine.stations import Tool

HOT = {"is_hot": True}
PAIR = {"crew_max": 2}


@dataclass(frozen=True)
class Case:
    """``allowed`` places ``most`` people; ``against`` the rule only ``fewer`` can be placed."""

    rule: str
    allowed: Problem
    against: Problem
    most: int = 1
    fewer: int = 0


def _drill(*people: object, **facts: object) -> Problem:
    stations = [bench("drill", **facts)]  # type: ignore[arg-type]
    return night(list(people), stations)  # type: ignore[arg-type]


def _club(problem: Problem, club: ClubRules) -> Problem:
    return Problem(**{**_fields(problem), "club": club})


def _fields(problem: Problem) -> dict[str, object]:
    return {name: getattr(problem, name) for name in Problem.__dataclass_fields__}


def _with(problem: Problem, **facts: object) -> Problem:
    return Problem(**{**_fields(problem), **facts})  # type: ignore[arg-type]


def _signed(until: str) -> SignOff:
    return SignOff("drill", Level.ALONE, until)


def _vises(count: int, out: int = 0) -> Problem:
    stations = [bench("drill", benches=2, tools={"vise": 1})]
    return night([ADA, BO], stations, tools=(Tool("vise", "Vise", count, out),))


ADA, BO = person("ada", "drill"), person("bo", "drill")
SAWYER = person("ada", "saw", needs_company=True)
KID, MUM = person("kid", "drill", age=15, guardians=("mum",)), person("mum")
HOOD = bench("weld", is_hooded=True)
WELD = [bench("weld", **HOT), watch()]
WELDER, WATCHER = person("ada", "weld"), person("bo", "watch")
GUARDED = ClubRules(guardian_required=True)
STRAW = {"has_straw": True, "level_needed": None}
CASES = [
    Case("sign_off", _drill(person("ada", _signed("2031-01-16"))),
         _drill(person("ada", _signed("2031-01-15")))),
    Case("sign_off", _drill(person("ada", "drill alone")),
         _drill(person("ada", "drill shown_how"))),
    Case("sign_off", _drill(person("ada"), level_needed=None), _drill(person("ada"))),
    Case("barred", _drill(person("ada", "drill", bars=(Bar("drill", until="2031-01-15"),))),
         _drill(person("ada", "drill", bars=(Bar("drill", until="2031-01-16"),)))),
    Case("barred", _drill(person("ada", "drill", bars=(Bar("saw"),))),
         _drill(person("ada", "drill", bars=(Bar(),)))),
    Case("prerequisites", _drill(person("ada", "drill", "eyes shown_how"), prerequisites=("eyes",)),
         _drill(ADA, prerequisites=("eyes",))),
    Case("prerequisites", _drill(person("ada", "drill", "eyes shown_how"), prerequisites=("eyes",)),
         _drill(person("ada", "drill", "eyes", bars=(Bar("eyes"),)), prerequisites=("eyes",))),
    Case("minimum_age", _drill(person("ada", "drill", age=18), min_age=18),
         _club(_drill(person("ada", "drill", age=17), min_age=18), ClubRules(adult_age=16))),
    Case("minimum_age", _drill(ADA, min_age=18), _drill(ADA, min_age=21)),
    Case("minor_hours", _club(_drill(KID, MUM), ClubRules(minor_latest=1155)),
         _club(_drill(KID, MUM), ClubRules(minor_latest=1154))),
    Case("minor_hours", _club(_drill(KID, MUM), ClubRules(minor_max_minutes=45)),
         _club(_drill(KID, MUM), ClubRules(minor_max_minutes=44))),
    Case("supervision", _drill(KID, MUM), _drill(person("kid", "drill", age=15))),
    Case("supervision", _club(_drill(KID, MUM), ClubRules(minors_per_adult=1)),
         _club(_drill(KID, MUM), ClubRules(minors_per_adult=0))),
    Case("supervision", _club(_drill(KID, MUM), GUARDED),
         _club(_drill(KID, person("mum", present=()), person("bo")), GUARDED)),
    Case("supervision", night([KID, person("mum", "weld")], [bench("drill"), bench("weld")]),
         night([KID, person("mum", "weld")], [bench("drill"), HOOD]), 2, 1),
    Case("learner_beside_lead",
         _drill(person("ada", "drill may_lead"), person("bo", "drill with_a_lead"), **PAIR),
         _drill(ADA, person("bo", "drill with_a_lead"), **PAIR), 2, 1),
    Case("learner_ratio",
         _drill(person("ada", "drill may_lead"), person("bo", "drill with_a_lead"),
                person("cy", "drill with_a_lead"), crew_max=3, learner_ratio=2),
         _drill(person("ada", "drill may_lead"), person("bo", "drill with_a_lead"),
                person("cy", "drill with_a_lead"), crew_max=3, learner_ratio=1), 3, 2),
    Case("buddy", _drill(ADA, **PAIR), _drill(ADA, **PAIR, needs_buddy=True)),
    Case("buddy",
         night([ADA, person("bo", "weld")],
               [bench("drill"), bench("weld", is_hooded=True, needs_buddy=True)]),
         night([ADA, person("bo", "weld")],
               [bench("drill", is_hooded=True),
                bench("weld", is_hooded=True, needs_buddy=True)]), 2, 1),
    Case("crew_minimum", _drill(ADA, **PAIR), _drill(ADA, **PAIR, crew_min=2)),
    Case("crew_maximum", _drill(ADA, BO, **PAIR), _drill(ADA, BO), 2, 1),
    Case("benches", _drill(ADA, BO, benches=2), _drill(ADA, BO), 2, 1),
    Case("tool_count", _vises(2),
         _vises(1), 2, 1),
    Case("out_of_service", _vises(2),
         _vises(2, 1), 2, 1),
    Case("out_of_service", _drill(ADA), _drill(ADA, closed_because="the chuck is cracked")),
    Case("presence", _drill(person("ada", "drill", present=(Span(1110, 1155),))),
         _drill(person("ada", "drill", present=(Span(1111, 1155),)))),
    Case("presence", _drill(ADA), _drill(person("ada", "drill", present=()))),
    Case("breaks", _drill(ADA), _drill(person("ada", "drill", breaks=(0,)))),
    Case("personal_limits", _drill(person("ada", "drill", no_dust=True)),
         _drill(person("ada", "drill", no_dust=True), is_dusty=True)),
    Case("personal_limits", _drill(person("ada", "drill", seated_only=True), can_sit=True),
         _drill(person("ada", "drill", seated_only=True))),
    Case("personal_limits", _drill(person("ada", "drill", no_heavy=True)),
         _drill(person("ada", "drill", no_heavy=True), is_heavy=True)),
    Case("alarm_hand", night([SAWYER, BO], [bench("drill"), bench("saw")]),
         night([SAWYER, BO], [bench("drill"), bench("saw", room="yard")]), 2, 1),
    Case("alarm_hand", night([WELDER, WATCHER], WELD),
         night([WELDER, person("bo", "watch", needs_company=True)], WELD)),
    Case("last_spark", night([WELDER, WATCHER], WELD, lock_up=1215),
         night([WELDER, WATCHER], WELD, lock_up=1214)),
    Case("fire_watch", night([WELDER, person("bo", "watch", present=(Span(1110, 1215),))], WELD),
         night([WELDER, person("bo", "watch")], [bench("weld", **HOT)])),
    Case("presence", night([WELDER, person("bo", "watch", present=(Span(1110, 1215),))], WELD),
         night([WELDER, person("bo", "watch", present=(Span(1110, 1214),))], WELD)),
    Case("sign_off", night([WELDER, WATCHER], WELD), night([WELDER, person("bo")], WELD)),
    Case("fire_watch_only",
         _club(night([WELDER, person("bo", "watch", age=17)], WELD), ClubRules(adult_age=17)),
         _with(night([WELDER, person("bo", "watch", age=17), person("cy", age=40)], WELD))),
    Case("hot_and_straw",
         night([WELDER, WATCHER, person("cy")], [*WELD, bench("roll", **STRAW, room="straw")]),
         night([WELDER, WATCHER, person("cy")], [*WELD, bench("roll", **STRAW)]), 2, 1),
    Case("floor_places", _with(_drill(ADA, BO, **PAIR), floor_places=2),
         _with(_drill(ADA, BO, **PAIR), floor_places=1), 2, 1),
    Case("floor_places", _with(_drill(ADA, is_off_floor=True), floor_places=0),
         _with(_drill(ADA), floor_places=0)),
    Case("locks_kept", night([ADA], [bench("drill"), bench("pin", level_needed=None)]),
         night([ADA], [bench("drill"), bench("pin", level_needed=None)],
               locks=(Lock("ada", 0, "pin"),)), 1, 1),
]  # fmt: skip
