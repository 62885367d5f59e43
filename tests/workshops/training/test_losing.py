"""What the winter loses if a sign-off lapses."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest
from django.utils import timezone

from inventory.places.models import Shop
from tests.factories import TODAY, make_night, make_sign_up, make_winter
from tests.workshops.nights.scene import Scene, bring_material, make_scene
from workshops.season import actions
from workshops.stations.models import Level
from workshops.training.losing import Weighing, weigh
from workshops.training.refusals import WeighingRefused


@pytest.fixture
def scene(shop: Shop, clock: Any) -> Scene:
    """A winter that wants sets, with four nights to come to which everybody comes."""
    scene = make_scene(shop)
    bring_material(scene)
    winter = make_winter(shop)
    for number in range(1, 4):
        night = make_night(shop, date=TODAY + timedelta(weeks=number))
        for person in scene.people.values():
            make_sign_up(night, person)
    actions.set_target(winter=winter, item=scene.stock.complete, wanted=actions.Wanted(200))
    return scene


def ends(scene: Scene, name: str, days: int) -> None:
    """The sign-off ends so many days from now: a shorter one replaces it."""
    person = scene.people[name]
    (row,) = person.sign_offs.all()
    person.sign_offs.create(
        shop=scene.shop, station=row.station, level=row.level, signed_on=TODAY,
        valid_until=TODAY + timedelta(days=days), evidence="paper",
    )  # fmt: skip


def weighed(scene: Scene) -> Weighing:
    return weigh(scene.shop, timezone.localdate())


def test_the_only_driller_costs_sets_and_is_named(scene: Scene):
    scene.people["Eli"].sign_ups.all().delete()
    ends(scene, "Ada", 1)
    found = weighed(scene)
    (loss,) = found.losses
    assert (loss.name, loss.station_name) == ("Ada Reed", "Drill")
    assert loss.sets > 1
    assert found.if_all == pytest.approx(found.sets + loss.sets)


def test_who_has_a_stand_in_costs_little_and_both_together_much(scene: Scene):
    scene.join("Ida", (scene.drill, Level.MAY_LEAD))
    for name in ("Ada", "Ida"):
        ends(scene, name, 1)
    found = weighed(scene)
    assert len(found.losses) == 2
    assert found.if_all - found.sets >= max(loss.sets for loss in found.losses)


def test_nothing_lapsing_loses_nothing(scene: Scene):
    found = weighed(scene)
    assert (found.losses, found.if_all) == ([], found.sets)


def test_without_a_target_or_a_night_it_cannot_be_said(shop: Shop, clock: Any):
    make_winter(shop)
    with pytest.raises(WeighingRefused, match="no target yet"):
        weigh(shop, TODAY)
