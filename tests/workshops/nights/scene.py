"""A shop on a Wednesday evening: five stations, five people, and a set made from tube and straw."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime, time
from typing import Any

from inventory.materials.models import Item, Recipe
from inventory.measures.lengths import feet
from inventory.places.models import Shop
from tests.factories import (
    make_night,
    make_operation,
    make_person,
    make_room,
    make_sign_off,
    make_sign_up,
    make_station,
    make_waiver,
)
from tests.inventory.winter import Stock, make_stock
from workshops.nights.models import Block, Night
from workshops.people.models import Person
from workshops.stations.models import Level, Operation, Station


@dataclass
class Scene:
    """The shop, tonight, and everybody by first name."""

    shop: Shop
    night: Night
    stock: Stock
    drill: Station
    weld: Station
    watch: Station
    roll: Station
    tag: Station
    operations: dict[str, Operation] = field(default_factory=dict)
    people: dict[str, Person] = field(default_factory=dict)

    @property
    def blocks(self) -> list[Block]:
        """The stretches of the night."""
        return list(self.night.blocks.all())

    def at(self, clock: str) -> datetime:
        """A moment of the night, in the shop's own time."""
        moment = time.fromisoformat(clock)
        return datetime.combine(self.night.date, moment, tzinfo=self.shop.zone)

    def join(self, name: str, *signed: tuple[Station, Level], **fields: Any) -> Person:
        """Somebody with a waiver who comes tonight, signed off where told."""
        person = make_person(self.shop, first_name=name, last_name="Reed", **fields)
        make_waiver(person)
        for station, level in signed:
            make_sign_off(person, station, level)
        make_sign_up(self.night, person)
        self.people[name] = person
        return person


def make_scene(shop: Shop, *, people: bool = True) -> Scene:
    """The scene; with ``people`` False nobody has answered yet."""
    stock = make_stock(shop)
    forge, barn = make_room(shop, name="Forge"), make_room(shop, name="Barn")
    scene = Scene(
        shop=shop,
        night=make_night(shop),
        stock=stock,
        drill=make_station(
            shop, name="Drill", kind=Station.Kind.DRILL, room=forge, level_needed=Level.ALONE,
            crew_max=2, sequence=1,
        ),
        weld=make_station(
            shop, name="Weld", kind=Station.Kind.WELD, room=forge, level_needed=Level.ALONE,
            is_spark=True, is_hooded=True, age_min=18, sequence=2,
        ),
        watch=make_station(
            shop, name="Fire watch", kind=Station.Kind.FIRE_WATCH, room=forge,
            level_needed=Level.SHOWN_HOW, sequence=3,
        ),
        roll=make_station(
            shop, name="Roll", kind=Station.Kind.ROLL, room=barn, is_straw=True, crew_min=2,
            crew_max=2, sequence=4,
        ),
        tag=make_station(shop, name="Tag", room=barn, crew_max=3, sequence=5),
    )  # fmt: skip
    _set_up_work(scene)
    if people:
        _gather(scene)
    return scene


def _set_up_work(scene: Scene) -> None:
    stock = scene.stock
    makes = {"drill": stock.post, "weld": stock.head, "roll": stock.cylinder, "tag": stock.complete}
    for sequence, (name, item) in enumerate(makes.items(), 1):
        scene.operations[name] = make_operation(
            getattr(scene, name), _recipe_of(item), slug=name, name=f"Make {item.name}",
            sequence=sequence,
        )  # fmt: skip


def _recipe_of(item: Item) -> Recipe:
    return Recipe.objects.get(output=item)


def _gather(scene: Scene) -> None:
    scene.join("Ada", (scene.drill, Level.MAY_LEAD))
    scene.join("Bo", (scene.weld, Level.ALONE))
    scene.join("Cy", (scene.watch, Level.SHOWN_HOW))
    scene.join("Dee")
    scene.join("Eli", (scene.drill, Level.WITH_A_LEAD))


def bring_material(scene: Scene) -> None:
    """Twenty sticks, five bales and five boxes of rings."""
    scene.stock.bring(scene.stock.tube, 20, feet(20))
    scene.stock.bring(scene.stock.straw, 5)
    scene.stock.bring(scene.stock.rings, 5)
