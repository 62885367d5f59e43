"""What a new club still lacks before its first night can be planned, in a workable order."""

from __future__ import annotations

from dataclasses import dataclass

from django.db.models import Exists, Model, OuterRef
from django.urls import reverse

from inventory.materials.models import Item, Recipe
from inventory.places.models import Room, Shop
from workshops.access.permissions import Permission
from workshops.people.models import Person
from workshops.season.models import Winter
from workshops.stations.models import BuildSheet, Operation, Station


@dataclass(frozen=True, slots=True)
class SetUpStep:
    """One thing a shop needs: what it is, what to say while it lacks, and where to go."""

    what: str
    says: str
    action: str
    url: str
    needs: Permission
    is_done: bool


@dataclass(frozen=True, slots=True)
class _Asked:
    row: type[Model]
    what: str
    says: str
    action: str
    page: str
    needs: Permission


# A build sheet needs its set, a parts list its items, an operation its station and its list.
ASKED = (
    _Asked(Room, "Rooms", "Name the rooms of the shop: stations stand in them.",
           "Name the rooms", "stations:rooms", Permission.EDIT_SHEETS),
    _Asked(Station, "Stations", "Add the stations: what each is for and who may stand there.",
           "Add a station", "stations:add", Permission.EDIT_SHEETS),
    _Asked(Item, "Items", "Add what the shop counts: metal, wire, straw, parts, complete sets.",
           "Add an item", "stock:add_item", Permission.EDIT_STOCK),
    _Asked(Recipe, "Parts lists", "Say what each thing you make is made from: open it in the "
           "stock, then its parts list.",
           "Go to the stock", "stock:on_hand", Permission.EDIT_STOCK),
    _Asked(BuildSheet, "Build sheets", "Draw the build sheet that the club builds from.",
           "New drawing", "stations:add_sheet", Permission.EDIT_SHEETS),
    _Asked(Operation, "What is made where", "Say what is made at each station and how long a "
           "piece takes: open a station.",
           "Go to the stations", "stations:list", Permission.EDIT_SHEETS),
    _Asked(Person, "People", "Add yourself, then those who sign people off.",
           "Add a person", "people:add", Permission.EDIT_PEOPLE),
    _Asked(Winter, "The winter", "Begin the winter: its first and last day, and when the sets "
           "must be ready.", "Begin a winter", "season:begin", Permission.EDIT_SEASON),
)  # fmt: skip


def steps_of(shop: Shop) -> list[SetUpStep]:
    """Each thing with whether the shop has any of it. 1 query."""
    there = {
        asked.page: Exists(asked.row._default_manager.filter(shop=OuterRef("pk")))
        for asked in ASKED
    }
    names = {asked.page: asked.page.replace(":", "_") for asked in ASKED}
    row = Shop.objects.annotate(**{names[page]: has for page, has in there.items()})
    found = row.values(*names.values()).get(pk=shop.pk)
    return [
        SetUpStep(asked.what, asked.says, asked.action, reverse(asked.page, args=[shop.slug]),
                  asked.needs, is_done=found[names[asked.page]])
        for asked in ASKED
    ]  # fmt: skip
