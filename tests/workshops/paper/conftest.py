"""Tonight's scene planned, a cut list and an outlook to print, and somebody who prints."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.test import Client

from inventory.cutting.actions import make_cut_list
from inventory.cutting.models import CutListRun
from inventory.measures.lengths import feet, inches
from inventory.places.models import Shop
from tests.workshops.nights.scene import Scene, bring_material, make_scene
from workshops.access.models import User
from workshops.nights.actions import plan_night
from workshops.nights.models import Night


@pytest.fixture
def scene(shop: Shop, clock) -> Scene:
    """Five people and material for a night, nobody placed yet."""
    scene = make_scene(shop)
    bring_material(scene)
    return scene


@pytest.fixture
def night(scene: Scene) -> Night:
    """Tonight, everybody placed."""
    plan_night(night=scene.night, by=None)
    return Night.objects.select_related("plan", "shop").get(pk=scene.night.pk)


@pytest.fixture
def run(scene: Scene) -> CutListRun:
    """A cut list for tonight: more long pieces than the rack gives."""
    scene.stock.bring(scene.stock.tube, 2, feet(20))
    wanted = [("Post", feet(7), 400), ("Stem", inches(20), 3)]
    key = scene.night.date.isoformat()
    return make_cut_list(
        shop=scene.shop, item=scene.stock.tube, pieces=wanted, by=None, night_key=key
    )


@pytest.fixture
def printer(duty_lead: User, client_of: Callable[[User], Client]) -> Client:
    """The duty lead's browser."""
    return client_of(duty_lead)
