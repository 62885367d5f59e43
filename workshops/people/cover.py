"""Who could cover a station, and whose sign-off ends soon."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from workshops.people.facts import PersonFacts, StationFacts
from workshops.people.gate import Doing, Register
from workshops.people.standing import Mark, standing
from workshops.stations.models import Level


@dataclass(frozen=True, slots=True)
class Cover:
    """Somebody who could cover a station: at once, or after what ``how`` says."""

    person: int
    name: str
    is_ready: bool
    how: str


@dataclass(frozen=True, slots=True)
class Lapse:
    """A sign-off that ends soon."""

    person: int
    name: str
    station: StationFacts
    level: Level
    valid_until: date


def who_could_cover(register: Register, station: int) -> list[Cover]:
    """Who could work at a station, those first who can at once. No query.

    After them come people whom only a lapsed sign-off, a missing waiver or the step from
    learner stops: nobody is named whom a bar, an age or a limit keeps away.
    """
    covers = [_cover(register, facts, station) for facts in register.people.values()]
    found = [cover for cover in covers if cover]
    # False sorts before True.
    return sorted(found, key=lambda cover: (not cover.is_ready, cover.name))


def hands_at(register: Register, station: int) -> list[int]:
    """Ids of those on the list whom no rule but a waiver keeps from the station. No query.

    Empty where no sign-off is asked: there anybody can stand.
    """
    needed = register.stations[station].level_needed
    if needed is None:
        return []
    found = []
    for facts in register.people.values():
        # Looked at first, because asking the gate of everybody is slow and most have none.
        signed = facts.current(station, register.on)
        if not facts.is_active or signed is None or signed.level < needed:
            continue
        if register.answer(facts.pk, station).ok_but_for({"waiver"}):
            found.append(facts.pk)
    return found


def signers_at(register: Register, station: int) -> list[int]:
    """Ids of those who may sign others there. No query."""
    found = []
    for facts in register.people.values():
        signed = facts.current(station, register.on)
        if signed is None or signed.level < Level.MAY_SIGN:
            continue
        if register.answer(facts.pk, station, Doing.SIGNS).ok:
            found.append(facts.pk)
    return found


def lapsing_soon(register: Register) -> list[Lapse]:
    """Sign-offs that end within the club's warning, the first to end first. No query."""
    found = [
        Lapse(facts.pk, facts.name, register.stations[station], cell.level, cell.valid_until)
        for facts in register.people.values()
        if facts.is_active
        for station in facts.signed
        if (cell := standing(register, facts, station)).mark is Mark.LAPSING
        and cell.level
        and cell.valid_until
    ]
    return sorted(found, key=lambda lapse: (lapse.valid_until, lapse.name))


def _cover(register: Register, facts: PersonFacts, station: int) -> Cover | None:
    answer = register.answer(facts.pk, station)
    if answer.ok:
        return Cover(facts.pk, facts.name, True, "can work here now")
    # The two that an evening can mend. To name others would tell of bars and limits.
    if not answer.ok_but_for({"sign_off", "waiver"}):
        return None
    steps = []
    if answer.stopped_by("sign_off"):
        step = _step_to_sign_off(register, facts, station)
        if not step:
            return None
        steps.append(step)
    if answer.stopped_by("waiver"):
        steps.append("signs the waiver")
    return Cover(facts.pk, facts.name, False, " and ".join(steps))


def _step_to_sign_off(register: Register, facts: PersonFacts, station: int) -> str:
    needed = register.stations[station].level_needed
    signed = facts.signed.get(station)
    if signed is None or needed is None:
        return ""
    if not signed.is_current(register.on) and signed.level >= needed:
        return "once signed again: the sign-off lapsed"
    if signed.is_current(register.on) and signed.level == Level.WITH_A_LEAD:
        return "once signed to work alone: learns it now"
    return ""
