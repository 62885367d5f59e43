"""The re-sign evening: who must sign whom again, authorisers before everybody else."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta

from inventory.places.models import Shop
from workshops.people.cover import signers_at
from workshops.people.facts import StationFacts
from workshops.people.gate import Register, register_on
from workshops.people.grounds import Reason
from workshops.people.names import told_apart
from workshops.people.register import Ending
from workshops.stations.models import Level

# Signing again mends the first; the second is signed at the door of a night.
MENDED = frozenset({"sign_off", "waiver"})


@dataclass(frozen=True, slots=True)
class Due:
    """One sign-off to be signed again.

    ``first`` names what has to be signed before it; ``why_not`` says why it cannot be.
    """

    person: int
    name: str
    station: StationFacts
    level: Level
    ended: date
    is_lapsed: bool
    is_done: bool = False
    first: str = ""
    why_not: tuple[Reason, ...] = ()
    no_signer: str = ""

    @property
    def is_authoriser(self) -> bool:
        """Whether others wait for this one to sign."""
        return self.level >= Level.MAY_SIGN


@dataclass(frozen=True, slots=True)
class SignerList:
    """What one authoriser has to look at, authorisers first."""

    signer: int
    name: str
    lines: list[Due] = field(default_factory=list)

    @property
    def left(self) -> list[Due]:
        """What is still to be signed."""
        return [line for line in self.lines if not line.is_done]


@dataclass(frozen=True, slots=True)
class Evening:
    """The whole evening."""

    on: date
    until: date
    lists: list[SignerList]
    stuck: list[Due]
    done: int
    total: int

    @property
    def percent(self) -> int:
        """Signed of all that can be, in whole per cent; 0 when nothing is due."""
        return 100 * self.done // self.total if self.total else 0


def evening_of(shop: Shop, on: date, until: date | None = None) -> Evening:
    """Lists by authoriser of what has lapsed, or ends before ``until``: 16 queries.

    Without ``until`` it is what ends within the club's warning. Empty when nothing is due.

    Notes
    -----
    What is due is read from the register of the day before, what is done from the evening's
    own. Each goes to the authoriser with fewest so far; authorisers whose own is due are
    signed first, by those who are current, and then stand for the others.
    """
    before, now = register_on(shop, on - timedelta(days=1)), register_on(shop, on)
    until = until or on + timedelta(days=now.rules.lapse_warning_days)
    due = _due(before, now, until)
    signers = {pk: signers_at(now, pk) for pk in now.stations}
    load: Counter[int] = Counter()
    told: dict[int, list[Due]] = {}
    stuck: list[Due] = []
    names = told_apart(now.people.values())
    for is_authoriser in (True, False):
        for line in (each for each in due if each.is_authoriser is is_authoriser):
            _deal(line, signers, load=load, told=told, stuck=stuck)
        if is_authoriser:
            _stand_in(told, signers)
    lists = [SignerList(pk, names[pk], _in_order(told[pk])) for pk in told]
    lines = [line for each in lists for line in each.lines]
    return Evening(
        on, until, sorted(lists, key=lambda each: each.name), stuck,
        done=sum(line.is_done for line in lines), total=len(lines),
    )  # fmt: skip


def _due(before: Register, now: Register, until: date) -> list[Due]:
    names = told_apart(now.people.values())
    found = [
        _line(now, names[pk], pk, station, ended=signed.valid_until, is_new=signed.row)
        for pk, facts in before.people.items()
        if facts.is_active
        for station, signed in facts.signed.items()
        if signed.valid_until
        and signed.valid_until < until
        and signed.ending is not Ending.WITHDRAWN
        and station in now.stations
        and now.stations[station].is_in_use
    ]
    waiting = {(each.person, each.station.pk) for each in found if not each.is_done}
    return [_after(now, each, waiting) for each in found]


def _line(now: Register, name: str, person: int, station: int, *, ended: date, is_new: int) -> Due:
    signed = now.people[person].signed[station]
    stops = now.answer(person, station).reasons
    return Due(
        person=person,
        name=name,
        station=now.stations[station],
        level=signed.given or signed.level,
        ended=ended,
        is_lapsed=ended < now.on,
        # Another line of the register than the evening before: signed anew, or stepped back.
        is_done=signed.row != is_new,
        why_not=tuple(each for each in stops if each.rule not in {*MENDED, "prerequisites"}),
    )


def _after(now: Register, line: Due, waiting: set[tuple[int, int]]) -> Due:
    """The line with what has to be signed first; stuck where that is not on the lists."""
    reason = now.answer(line.person, line.station.pk).stopped_by("prerequisites")
    if reason is None:
        return line
    first = [each.name for each in line.station.prerequisites if (line.person, each.pk) in waiting]
    if first:
        return replace(line, first=" and ".join(first))
    return replace(line, why_not=(*line.why_not, reason))


def _deal(
    line: Due,
    signers: dict[int, list[int]],
    *,
    load: Counter[int],
    told: dict[int, list[Due]],
    stuck: list[Due],
) -> None:
    able = [pk for pk in signers[line.station.pk] if pk != line.person]
    if not line.is_done and line.why_not:
        stuck.append(line)
    elif able:
        signer = min(able, key=lambda pk: (load[pk], pk))
        load[signer] += not line.is_done
        told.setdefault(signer, []).append(line)
    elif not line.is_done:
        stuck.append(replace(line, no_signer=_nobody(signers[line.station.pk])))


def _nobody(signers: Sequence[int]) -> str:
    if signers:
        return "Only they themselves may sign here, and nobody signs for themselves."
    return "Nobody who may sign others here has a sign-off that counts."


def _stand_in(told: dict[int, list[Due]], signers: dict[int, list[int]]) -> None:
    """Authorisers signed in the first round sign in the second."""
    for line in [each for lines in told.values() for each in lines]:
        at = signers[line.station.pk]
        if line.person not in at:
            at.append(line.person)


def _in_order(lines: Iterable[Due]) -> list[Due]:
    return sorted(lines, key=lambda each: (not each.is_authoriser, each.station.name, each.name))
