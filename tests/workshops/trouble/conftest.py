"""A night on which something happens."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any
from uuid import uuid4

import pytest

from inventory.places.models import Shop
from tests.workshops.nights.scene import Scene, make_scene
from workshops.nights import actions as nights
from workshops.trouble.actions import Closing, Report, Told, report
from workshops.trouble.models import Trouble


@pytest.fixture
def scene(shop: Shop, clock: Any) -> Scene:
    """Tonight at half past seven, with five people and nobody placed."""
    made = make_scene(shop)
    clock.move_to(made.at("19:30"))
    return made


@pytest.fixture
def put(scene: Scene) -> Callable[..., None]:
    """Somebody placed at a station, in all three blocks unless told."""

    def at(name: str, station: str, *blocks: int) -> None:
        for block in blocks or (0, 1, 2):
            nights.place(
                night=scene.night, block=scene.blocks[block], person=scene.people[name],
                station=getattr(scene, station),
            )  # fmt: skip

    return at


@pytest.fixture
def happen(scene: Scene) -> Callable[..., Told]:
    """A cut hand at the drill, which is closed until a lead reopens it, unless told."""

    def at(clock: str = "19:30", **fields: Any) -> Told:
        usual: dict[str, Any] = {
            "kind": Trouble.Kind.HURT, "station": scene.drill, "reported_by": "Dov",
            "closing": Closing.UNTIL_REOPENED, "client_key": uuid4(),
        }  # fmt: skip
        return report(
            night=scene.night, told=Report(**(usual | fields)), by=None, at=scene.at(clock)
        )

    return at
