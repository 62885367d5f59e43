"""A burglar who calls every public action, with whoever and whatever comes to hand."""

from __future__ import annotations

from copy import copy
from datetime import timedelta
from random import Random
from typing import Any
from uuid import UUID

from inventory.ledger.actions import PostingRefused
from tests.factories import TODAY
from tests.workshops.nights.hot import open_permit
from tests.workshops.people.break_in.world import REFUSED, WIDTHS, Watchman, World, sequences
from workshops.club.rule import RuleRefused
from workshops.nights import actions as nights
from workshops.nights.changes import steps_of
from workshops.nights.models import Block, HotWorkPermit, Night, Placing, Tally
from workshops.nights.refusals import NightRefused, PlacingRefused
from workshops.people import actions as people
from workshops.people.models import Bar, Person, SignOff
from workshops.people.refusals import PeopleRefused
from workshops.stations.models import Level, Operation, Station

REFUSALS = (NightRefused, PlacingRefused, PeopleRefused, PostingRefused, RuleRefused)
KEYS = [UUID(int=number) for number in (1, 2)]  # two, so that most are sent again


class ByActions:
    """One action after another; what is refused is no step."""

    def __init__(self, world: World, draw: Random) -> None:
        self.world, self.draw = world, draw

    def pick(self, kind: str) -> Any:
        return self.draw.choice(self.world.rows[kind])

    def person(self) -> Person:
        person: Person = self._as_read(self.pick("person"))
        return person

    def station(self) -> Station:
        station: Station = self._as_read(self.pick("station"))
        return station

    def _as_read(self, row: Any) -> Any:
        """The row as it is now, or oftener as somebody read it before all that was done since."""
        if self.chance(0.25):
            return type(row)._default_manager.select_related("shop").get(pk=row.pk)
        return copy(row)

    def night(self) -> Night:
        return Night.objects.select_related("shop").get(pk=self.pick("night").pk)

    def chance(self, of: float) -> bool:
        return self.draw.random() < of

    def place(self) -> None:
        block = Block.objects.select_related("night__shop").get(pk=self.pick("block").pk)
        # Now and then the block of another night, as a stale page would send it.
        night = block.night if self.chance(0.95) else self.night()
        nights.place(
            night=night, block=block, person=self.person(), station=self.station(),
            is_locked=self.chance(0.7),
        )  # fmt: skip

    def change_places(self) -> None:
        nights.change_places(
            night=self.night(), one=self.person(), other=self.person(), by=None,
            at=self.world.scene.at("18:00"),
        )  # fmt: skip

    def plan_night(self) -> None:
        nights.plan_night(
            night=self.night(), by=None, seconds=0.05, seed=1, keeping=self.chance(0.5)
        )

    def unplace(self) -> None:
        row = self.draw.choice(list(Placing.objects.all()) or [None])
        if row:
            nights.unplace(night=row.night, block=row.block, person=row.person)

    def undo_step(self) -> None:
        night = self.night()
        row = steps_of(night).back
        nights.undo_step(night=night, change=row.pk if row else 0)

    def redo_step(self) -> None:
        night = self.night()
        row = steps_of(night).again
        nights.redo_step(night=night, change=row.pk if row else 0)

    def replan_rest(self) -> None:
        clock = self.draw.choice(["17:00", "18:45", "19:15"])
        nights.replan_rest(
            night=self.night(), by=None, at=self.world.scene.at(clock), seconds=0.05, seed=1,
            keeps_current=self.chance(0.5),
        )  # fmt: skip

    def set_lock(self) -> None:
        row = self.draw.choice(list(Placing.objects.all()) or [None])
        if row:
            nights.set_lock(placing=row, is_locked=not row.is_locked)

    def tally(self) -> None:
        operation = Operation.objects.get(pk=self.pick("operation").pk)
        nights.tally(
            night=self.night(), operation=operation, at=self.world.scene.at("19:00"), by=None,
            good=self.draw.randint(0, 2), client_key=self.draw.choice(KEYS),
        )  # fmt: skip

    def undo_tally(self) -> None:
        row = Tally.objects.order_by("?").first()
        if row:
            nights.undo_tally(tally=row, at=self.world.scene.at("19:30"), by=None)

    def sign_in(self) -> None:
        nights.sign_in(night=self.night(), person=self.person(), at=self.world.scene.at("18:10"))

    def sign_out(self) -> None:
        nights.sign_out(night=self.night(), person=self.person(), at=self.world.scene.at("20:40"))

    def open_permit(self) -> None:
        open_permit(self.night(), self.person(), self.world.scene.at("18:20"))

    def take_watch(self) -> None:
        permit = HotWorkPermit.objects.first()
        if permit:
            nights.take_watch(permit=permit, watcher=self.person(), at=self.world.scene.at("18:40"))

    def end_watch(self) -> None:
        permit = HotWorkPermit.objects.first()
        if permit:
            at = self.world.scene.at("19:00")
            nights.tell_spark(
                night=permit.night, station=self.world.scene.weld, struck_by="B", spark_at=at,
                at=at,
            )  # fmt: skip
            nights.end_watch(permit=permit, at=at + timedelta(hours=2), signed_by="D")

    def sign_off(self) -> None:
        people.sign_off(
            person=self.person(), station=self.station(), level=self.draw.choice(Level.values),
            signed_by=self.person(), on=self.pick("day"), evidence="seen", by=None,
        )  # fmt: skip

    def set_bar(self) -> None:
        station = self.station() if self.chance(0.8) else None
        people.set_bar(
            person=self.person(), station=station, reason="x", set_by="C", by=None,
            until=self.pick("day") if self.chance(0.3) else None,
            only_with_a_lead=self.chance(0.3),
        )  # fmt: skip

    def lift_bar(self) -> None:
        bar = Bar.objects.order_by("?").first()
        if bar:
            people.lift_bar(bar=bar, lifted_by="C", by=None)

    def review(self) -> None:
        row = SignOff.objects.order_by("?")[0]
        verdict = self.draw.choice(["stands", "withdrawn", "mistake"])
        people.review(sign_off=row, verdict=verdict, reason="x", reviewer=self.person(), by=None)

    def edit_person(self) -> None:
        person = self.person()
        fields = self.draw.choice([
            {"is_active": False}, {"is_active": True}, {"no_dust": True},
            {"born_on": TODAY - timedelta(days=365 * self.draw.choice([14, 17, 40]))},
            {"likes": [self.world.scene.weld]},
        ])  # fmt: skip
        people.edit_person(person=person, fields=fields, by=None)

    def set_lifetime(self) -> None:
        people.set_lifetime(
            station=self.station(), unused_months=self.draw.choice([None, 1, 6]),
            decided_by="B", decided_on=self.pick("day"), source="m", by=None,
        )  # fmt: skip

    def add_guardian(self) -> None:
        people.add_guardian(minor=self.person(), guardian=self.person(), by=None)

    def set_training(self) -> None:
        nights.set_training(
            night=self.night(), learner=self.person(), station=self.station(), lead=self.person(),
            by=None,
        )  # fmt: skip

    def sign_up(self) -> None:
        nights.sign_up(
            night=self.night(), person=self.person(), answer=self.draw.choice(["yes", "no"]),
            at=self.world.scene.at("17:00"),
        )  # fmt: skip

    def edit_station(self) -> None:
        """A coordinator asks more, or less, of whoever stands at a station."""
        level = self.draw.choice([Level.SHOWN_HOW, Level.ALONE, Level.MAY_LEAD])
        Station.objects.filter(pk=self.world.scene.drill.pk).update(level_needed=level)

    def step(self) -> str:
        """One step, and what it was."""
        name = self.draw.choices(list(WEIGHTS), list(WEIGHTS.values()))[0]
        try:
            getattr(self, name)()
        except REFUSALS:
            return REFUSED
        return name


def try_by_actions(world: World, draw: Random) -> int:
    """One burglar, whose every step is undone afterwards; how many sequences were tried."""
    return sequences(ByActions(world, draw).step, Watchman(world.at_first), WIDTHS)


WEIGHTS = {
    "change_places": 4, "place": 16, "set_lock": 3, "unplace": 1, "tally": 4, "undo_tally": 1,
    "sign_in": 2, "sign_out": 1, "open_permit": 2, "take_watch": 2, "end_watch": 1,
    "sign_off": 7, "set_bar": 7, "lift_bar": 3,
    "review": 5, "edit_person": 4, "set_lifetime": 2, "add_guardian": 1, "sign_up": 1,
    "edit_station": 1, "set_training": 2, "plan_night": 0.6,
    "undo_step": 5, "redo_step": 2, "replan_rest": 0.6,
}  # fmt: skip
