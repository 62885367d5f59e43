"""The shop that burglars try, and what every sequence is held to."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import timedelta
from typing import Any

from django.db import transaction

from inventory.places.models import Shop
from tests.factories import (
    TODAY,
    make_bar,
    make_member,
    make_minor,
    make_night,
    make_person,
    make_sign_off,
    make_sign_up,
    make_station,
    make_waiver,
)
from tests.workshops.nights.scene import Scene, bring_material, make_scene
from tests.workshops.people.break_in.lawful import Line, Rows
from workshops.access.models import User
from workshops.nights import actions as nights
from workshops.nights.board import board_for
from workshops.nights.models import Night, RollLine
from workshops.people.models import Person
from workshops.stations.models import Level

# Does something, and says through which door.
Step = Callable[[], str]
# Twelve sequences of three steps.
WIDTHS = (1, 3, 4)
REFUSED = "what was refused"

# These change what a station or the club asks. Who stands there by then is left standing and
# named on the board at once: the lead decides, not the clerk who edits a station.
LEAVES_STANDING = frozenset({"stations:edit", "people:life", "set_lifetime", "edit_station"})


@dataclass
class World:
    """The scene of the nights, with people who must stay out of it."""

    scene: Scene
    other: Shop
    users: dict[str, User]
    rows: dict[str, list[Any]]
    at_first: Rows = field(default_factory=Rows)

    @property
    def shop(self) -> Shop:
        """The shop that is tried."""
        return self.scene.shop


def make_world(shop: Shop, other: Shop) -> World:
    """Two nights, one of them tonight; a welder, an authoriser, and people for every ground."""
    scene = make_scene(shop)
    bring_material(scene)
    scene.weld.prerequisites.add(scene.watch)
    _gather(scene)
    later = make_night(shop, date=TODAY + timedelta(days=7))
    for person in scene.people.values():
        make_sign_up(later, person)
        RollLine.objects.create(night=scene.night, person=person, in_at=scene.at("18:00"))
    users = {
        role: make_member(shop, f"b-{role}", role)
        for role in ("coordinator", "duty_lead", "authoriser", "volunteer")
    }
    sig = scene.people["Sig"]
    sig.user = users["authoriser"]
    sig.save()
    # Somebody stands everywhere already: there is something to fix, to bar away and to count.
    nights.plan_night(night=scene.night, by=None, seconds=1.0)
    return World(scene, other, users, _rows(scene, later, other))


def _gather(scene: Scene) -> None:
    shop, drill, weld, watch = scene.shop, scene.drill, scene.weld, scene.watch
    make_sign_off(scene.people["Bo"], watch, Level.ALONE)
    scene.join("Sig", (drill, Level.MAY_SIGN), (weld, Level.MAY_SIGN), (watch, Level.MAY_SIGN))
    scene.join("Lapsed")
    make_sign_off(scene.people["Lapsed"], drill, valid_until=TODAY - timedelta(days=1))
    scene.join("Barred", (drill, Level.MAY_SIGN), (weld, Level.ALONE), (watch, Level.ALONE))
    make_bar(scene.people["Barred"])
    # Suspended: at the drill only beside a lead.
    scene.join("Beside", (drill, Level.MAY_LEAD))
    make_bar(scene.people["Beside"], drill, only_with_a_lead=True)
    # A welding sign-off, and none for the extinguisher that it builds on.
    scene.join("NoWatch", (weld, Level.ALONE))
    mina = make_minor(shop, scene.people["Ada"])
    make_waiver(mina)
    make_sign_off(mina, weld)
    make_sign_off(mina, watch)
    make_sign_up(scene.night, mina)
    scene.people["Mina"] = mina


def _entered_twice(scene: Scene) -> list[Person]:
    """Second entries of people: with more than the first had, and without what stops the first."""
    ada, barred, lapsed, new = (
        make_person(scene.shop, first_name=name, last_name="Reed")
        for name in ("Ada", "Barred", "Lapsed", "No Watch")
    )
    make_sign_off(ada, scene.weld, Level.ALONE)
    make_sign_off(barred, scene.drill, Level.MAY_LEAD)
    make_sign_off(lapsed, scene.drill, Level.MAY_LEAD, valid_until=TODAY - timedelta(days=9))
    make_sign_off(new, scene.watch, Level.ALONE)
    make_bar(new, scene.drill)
    return [ada, barred, lapsed, new]


def _rows(scene: Scene, later: Night, other: Shop) -> dict[str, list[Any]]:
    foreign = make_person(other)
    make_waiver(foreign)
    far = make_station(other, level_needed=Level.ALONE)
    make_sign_off(foreign, far, Level.MAY_SIGN)
    night = make_night(other)
    stations = [scene.drill, scene.weld, scene.watch, scene.roll, scene.tag]
    return {
        "person": [*scene.people.values(), foreign],
        "double": _entered_twice(scene),
        # The machines oftener than the rest, and once another shop's.
        "station": [*stations, scene.drill, scene.weld, scene.weld, far],
        "night": [scene.night, scene.night, later, night],
        "block": [*scene.blocks, *later.blocks.all(), night.blocks.all()[0]],
        "operation": list(scene.operations.values()),
        "day": [TODAY + timedelta(days=days) for days in (-400, -30, -1, 0, 0, 0, 7)],
    }


@contextmanager
def taken_back() -> Iterator[None]:
    """What a burglar does is undone afterwards: the next one finds the shop as it was."""
    with transaction.atomic():
        yield
        transaction.set_rollback(True)


def sequences(step: Step, watchman: Watchman, widths: Sequence[int]) -> int:
    """Try steps after one another along a tree that parts after each of them; how many ways.

    Every way from the root to a leaf is a sequence of its own. Ways share what they begin
    with, so that a step whose end is looked at is not done again for each of its sequels:
    ``widths`` of 1, 3, 4 are twelve sequences of three steps, by 16 steps and not 36.
    """
    if not widths:
        watchman.look_at_last()
        return 1
    found = 0
    for _ in range(widths[0]):
        with taken_back():
            onward = watchman.there()
            # Also when it was refused: what it left behind would be found here.
            onward.look(step())
            found += sequences(step, onward, widths[1:])
    return found


class Watchman:
    """Looks after every step of a burglar, and says what should not have come about."""

    def __init__(self, before: Rows, tolerated: frozenset[int] = frozenset()) -> None:
        self.tolerated = tolerated
        self._remember(before)

    def there(self) -> Watchman:
        """Another who goes on from here, where the ways part."""
        return Watchman(self.before, self.tolerated)

    def look(self, door: str) -> None:
        """Nothing unlawful has come about by the step through that door.

        Raises
        ------
        AssertionError
            When it has; the sentence says what.
        """
        rows = Rows()
        unlawful = rows.unlawful_stands()
        if door in LEAVES_STANDING:
            self.tolerated |= {each.pk for each in unlawful if each.pk in self.placed}
        stands = [each for each in unlawful if each.pk not in self.tolerated]
        assert not stands, f"{door}: {stands} against the register"
        self._look_at_what_is_new(door, rows)
        self._remember(rows)

    def look_at_last(self) -> None:
        """In the end nothing unlawful stands but what the board tells of."""
        unlawful = self.before.unlawful_stands() if self.tolerated else []
        for night in Night.objects.filter(date__in={each.on for each in unlawful}):
            told = {breach.people for breach in board_for(night).breaches}
            here = [
                each for each in unlawful if (each.on, each.shop) == (night.date, night.shop_id)
            ]
            untold = [each for each in here if (str(each.person),) not in told]
            assert not untold, f"the board does not tell of {untold}"

    def _look_at_what_is_new(self, door: str, rows: Rows) -> None:
        for use in rows.worked:
            role = "learns" if use.with_a_lead else "works"
            is_lawful = rows.is_lawful(use.person, use.station, role, use.day)
            assert use.pk in self.used or is_lawful, f"{door}: {use} is counted as use"
        for line in rows.lines:
            if line.pk not in self.signed:
                is_right = _is_rightly_signed(door, line, rows) or self._is_copied(line, rows)
                assert is_right, f"{door}: {line}, by whom?"
        for watch in rows.unlawful_watches():
            assert watch.pk in self.watched, f"{door}: {watch} by somebody who may not"
        for gone in set(rows.joined) - set(self.before.joined):
            opened = rows.opened(self.before, gone, TODAY)
            assert not opened, f"{door}: {gone} joined with another may more at {opened}"

    def _is_copied(self, line: Line, rows: Rows) -> bool:
        """Whether the line was another entry's, who is now one with its person."""
        return any(
            rows.joined.get(old.person) == line.person and old[2:] == line[2:]
            for old in self.before.lines
        )

    def _remember(self, rows: Rows) -> None:
        self.before = rows
        self.placed = {each.pk for each in rows.stands}
        self.used = {each.pk for each in rows.worked}
        self.signed = {each.pk for each in rows.lines}
        self.watched = {each.pk for each in rows.watches}


def _is_rightly_signed(door: str, line: Line, rows: Rows) -> bool:
    if line.signed_by is None and door == "people:write_list":
        return line.level < Level.MAY_SIGN
    if line.signed_by is None:
        return door in ("people:enter", "enter_sign_off")
    return line.signed_by != line.person and all(
        rows.may_sign(line.signed_by, line.station, day) for day in (line.signed_on, TODAY)
    )
