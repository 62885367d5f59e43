"""A winter half over: a target, a night last week, tonight and next week to come."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta

import pytest
from django.urls import reverse

from inventory.places.models import Shop
from tests.factories import make_night, make_sign_up, make_winter
from tests.workshops.nights.scene import Scene, bring_material, make_scene
from workshops.nights import actions as nights
from workshops.nights.models import Night, Tally
from workshops.season import actions
from workshops.season.models import Winter

TODAY = date(2026, 1, 14)


@dataclass
class Season:
    """The scene of a night, and the winter it stands in."""

    scene: Scene
    winter: Winter
    last_week: Night
    next_week: Night

    @property
    def shop(self) -> Shop:
        """The shop of the scene."""
        return self.scene.shop

    def want(self, new: int = 10, replacements: int = 4, spares: int = 1) -> None:
        """Set the target of the one kind of set."""
        wanted = actions.Wanted(new, replacements, spares)
        actions.set_target(winter=self.winter, item=self.scene.stock.complete, wanted=wanted)

    def make(self, name: str, good: int, *, night: Night | None = None, **counted: int) -> Tally:
        """Count pieces of an operation, last week unless another night is given."""
        return nights.tally(
            night=night or self.last_week, operation=self.scene.operations[name],
            at=self.scene.at("17:00"), by=None, good=good, **counted,
        )  # fmt: skip

    def hold_last_week(self, *came: str) -> None:
        """Everybody was asked; those named came; the night is over."""
        for person in self.scene.people.values():
            make_sign_up(self.last_week, person)
        for name in came:
            self.last_week.roll.create(
                person=self.scene.people[name], in_at=self.scene.at("09:00"),
                out_at=self.scene.at("10:00"),
            )  # fmt: skip
        Night.objects.filter(pk=self.last_week.pk).update(status=Night.Status.CLOSED)


@pytest.fixture
def season(shop: Shop, clock) -> Season:
    """The winter of the frozen clock with nothing wanted yet and nothing made."""
    scene = make_scene(shop)
    week = timedelta(days=7)
    return Season(
        scene=scene,
        winter=make_winter(shop),
        last_week=make_night(shop, date=TODAY - week),
        next_week=make_night(shop, date=TODAY + week),
    )


@pytest.fixture
def material(season: Season) -> None:
    """Enough of everything for a night: only where it matters, because it takes a while."""
    bring_material(season.scene)


@pytest.fixture
def at(shop: Shop) -> Callable[[str], str]:
    """The address of a page of the winter."""
    return lambda name: reverse(f"season:{name}", args=[shop.slug])
