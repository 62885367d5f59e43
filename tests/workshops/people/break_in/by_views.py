"""A burglar who posts: stale forms, wrong ids, another shop's ids, keys sent again."""

from __future__ import annotations

from random import Random
from typing import Any

from django.test import Client
from django.urls import reverse

from tests.addresses import every_address
from tests.factories import TODAY
from tests.workshops.people.break_in.bringing import joining, list_brought
from tests.workshops.people.break_in.world import REFUSED, WIDTHS, Watchman, World, sequences
from workshops.common.jobs import run_now
from workshops.common.models import Job
from workshops.nights.models import Change, Placing, Tally
from workshops.people.models import Bar, SignOff
from workshops.tonight.models import Tap

# How often each door is tried, by the name of its address.
TRIED = {
    "nights:move": 24, "nights:plan": 1, "nights:lock": 4, "nights:step_back": 5,
    "nights:step_again": 3, "nights:rest": 1, "nights:sign_in": 2,
    "flow:swap": 4, "nights:sign_out": 1,
    "counting:tally": 3, "counting:share": 2, "counting:mend": 1, "counting:sheet": 1,
    "counting:undo": 2, "nights:permit": 4,
    "lockup:close": 1, "nights:watch_turn": 2, "nights:coming": 2,
    "people:sign": 9, "people:enter": 3, "people:bar": 7, "people:lift": 4, "people:review": 5,
    "people:life": 2, "people:edit": 3, "people:waiver": 1, "people:guardian": 1,
    "people:account": 1, "people:walk_in": 1, "people:add": 1, "stations:edit": 1, "club:rule": 2,
    "club:usual": 1, "training:timetable": 6, "training:take": 1, "training:resign_one": 5,
    "people:write_list": 5, "people:merge": 5,
    "tonight:not_coming": 2, "tonight:back": 2, "tonight:training": 1,
}  # fmt: skip
# Doors that ask what was seen before: how it comes to be seen.
SEEN = {"people:write_list": list_brought, "people:merge": joining}
ARGUMENTS = {each.name: set(each.arguments) - {"shop"} for each in every_address()}
KEYS = [f"00000000-0000-4000-8000-00000000000{number}" for number in (1, 2)]
RULES = ["sign_off_months", "waiver_needed", "adult_age", "signers_named_by", "points_needed"]
# What stands as "pk" in an address, where it is not a person.
PK = {
    "people:life": "station",
    "stations:edit": "station",
    "counting:undo": "tally",
    "tonight:back": "tap",
}


class ByViews:
    """One POST after another, each as whoever is signed in in that browser."""

    def __init__(self, world: World, draw: Random, browsers: dict[str, Client]) -> None:
        self.world, self.draw, self.browsers = world, draw, browsers

    def pick(self, kind: str) -> Any:
        return self.draw.choice(self.world.rows[kind])

    def a_row(self, model: Any) -> int:
        """The number of some row, of whichever shop; one that is not there when there is none."""
        return self.draw.choice(list(model.objects.values_list("pk", flat=True)) or [0])

    def url(self, name: str, seen: dict[str, Any]) -> str:
        """The address with something of the right kind in it, not always of this shop."""
        values = {
            "pk": self._pk(PK.get(name, "person")), "person": self.pick("person").pk,
            "block": self.pick("block").pk, "on": self.pick("night").date,
            "placing": self.a_row(Placing), "change": self.a_row(Change), "bar": self.a_row(Bar),
            "station": self.pick("station").pk, "number": 1,
            "sign_off": self.a_row(SignOff), "key": self.draw.choice(RULES),
        }  # fmt: skip
        if name == "people:review" and values["sign_off"]:
            values["pk"] = SignOff.objects.get(pk=values["sign_off"]).person_id
        if name == "nights:move":
            values["on"] = self._night_of(values["block"])
        if name == "tonight:back" and values["pk"]:
            values["on"] = Tap.objects.get(pk=values["pk"]).night.date
        kwargs = {each: (values | seen)[each] for each in ARGUMENTS[name]}
        return reverse(name, kwargs={"shop": self.world.shop.slug, **kwargs})

    def _pk(self, kind: str) -> int:
        rows = {"tally": Tally, "tap": Tap}
        return self.a_row(rows[kind]) if kind in rows else self.pick(kind).pk

    def _night_of(self, block: int) -> Any:
        rows = {row.pk: row.night.date for row in self.world.rows["block"]}
        return rows[block]

    def form(self, name: str) -> dict[str, Any]:
        """Every field that any of the forms reads; each takes what it knows."""
        draw = self.draw
        given = {
            "station": draw.choice([self.pick("station").pk, self.pick("station").pk, "none", "x"]),
            "person": self.pick("person").pk, "watcher": self.pick("person").pk,
            "signed_by": draw.choice([self.pick("person"), self.world.scene.people["Sig"]]).pk,
            "guardian": self.pick("person").pk,
            "operation": self.pick("operation").pk, "good": draw.randint(0, 2),
            "client_key": draw.choice(KEYS), "level": draw.randint(0, 6), "evidence": "seen",
            "reason": "x", "on": self.pick("day"), "verdict": draw.choice(["withdrawn", "mistake"]),
            "answer": draw.choice(["yes", "no"]), "last_spark": "19:00", "words": "w",
            "first_name": "New", "version": "2026", "anew": draw.choice(["yes", ""]),
            "user": draw.choice([user.pk for user in self.world.users.values()]),
            "unused_months": draw.choice(["", 1]), "decided_by": "B", "source": "m",
            "decided_on": TODAY, "value": draw.choice(["yes", "no", "12", "club", "words"]),
            "is_active": draw.choice(["on", "on", ""]), "joined_on": "2025-01-01",
            "born_on": draw.choice(["", "2012-01-01"]), "is_adult_declared": "on",
            "room": self.world.scene.weld.room_id, "stations": [self.world.scene.weld.pk],
            "work": "w", "extinguisher": "e", "allowed_by": "D", "key_with": "D", "not_done": "n",
            "learner": self.pick("person").pk, "lead": self.pick("person").pk,
            "night": self.pick("night").pk,
            "one": self.pick("person").pk, "other": self.pick("person").pk,
            # A field that no form has, as somebody with a pencil would send it.
            "shop": self.world.other.pk, "role": "works", "is_locked": "on",
        }  # fmt: skip
        given["on"] = TODAY if draw.random() < 0.7 else given["on"]
        if draw.random() < 0.3:
            given["only_with_a_lead"] = "on"
        return {key: value for key, value in given.items() if value != "" or key == "anew"}

    def step(self) -> str:
        """One POST, and what it was."""
        name = self.draw.choices(list(TRIED), list(TRIED.values()))[0]
        role = self.draw.choice(["coordinator", "coordinator", "duty_lead", "authoriser"])
        role = "volunteer" if self.draw.random() < 0.05 else role
        see = SEEN.get(name)
        seen = see(self.world, self.draw, self.world.users[role]) if see else {}
        answer = self.browsers[role].post(self.url(name, seen), self.form(name) | seen)
        assert answer.status_code < 500, f"{name} broke"
        if name == "nights:plan" and answer.status_code == 302:
            run_now(Job.objects.latest("pk"))
        # Refused, forbidden or not found: nothing may have been done.
        return name if answer.status_code == 302 else REFUSED


def try_by_views(world: World, draw: Random, browsers: dict[str, Client]) -> int:
    """One burglar, whose every post is undone afterwards; how many sequences were tried."""
    return sequences(ByViews(world, draw, browsers).step, Watchman(world.at_first), WIDTHS)
