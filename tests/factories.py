"""Small makers of rows, plain functions: what a test does not name gets a workable value.

Names are numbered, so that two rows made without a name never collide.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, time
from decimal import Decimal
from itertools import count
from typing import Any

from auditlog.context import disable_auditlog

from inventory.materials.models import Item, Recipe, RecipeLine
from inventory.measures.lengths import feet, inches
from inventory.places.models import Place, Room, Shop
from workshops.access.models import Membership, User
from workshops.nights.models import Block, Night, SignUp
from workshops.people.models import Bar, Guardianship, Person, Review, SignOff, Waiver
from workshops.season.models import Winter
from workshops.stations.models import BuildSheet, Level, Operation, Part, Station, Tool

TODAY = date(2026, 1, 14)
_number = count(1)

# Comparing each field of each row for the trail of changes would take a fifth of the tests' time.
untrailed = disable_auditlog()


@untrailed
def make_shop(**fields: Any) -> Shop:
    """A shop on Central time that measures in inches."""
    usual = {"name": "Teal Point", "slug": "teal-point", "time_zone": "America/Chicago"}
    return Shop.objects.create(**(usual | fields))


@untrailed
def make_member(shop: Shop, username: str, role: str) -> User:
    """A user who signs in with the password ``winter-<username>`` and has a role."""
    user = User.objects.create_user(
        username, password=f"winter-{username}", first_name=username.title()
    )
    Membership.objects.create(user=user, shop=shop, role=role)
    return user


@untrailed
def make_room(shop: Shop, **fields: Any) -> Room:
    """A room."""
    return Room.objects.create(shop=shop, **({"name": f"Room {next(_number)}"} | fields))


@untrailed
def make_place(shop: Shop, **fields: Any) -> Place:
    """A storage place."""
    return Place.objects.create(shop=shop, **({"name": f"Rack {next(_number)}"} | fields))


@untrailed
def make_item(shop: Shop, **fields: Any) -> Item:
    """A half-made item with a home; ``kind=Item.Kind.METAL`` makes sticks of tube."""
    n = next(_number)
    usual: dict[str, Any] = {"slug": f"item-{n}", "name": f"Item {n}", "kind": Item.Kind.RACK}
    if fields.get("kind") == Item.Kind.METAL:
        usual |= {"shape": Item.Shape.SQUARE_TUBE, "outside_um": inches(2), "wall_um": 3_000}
        usual |= {"kerf_um": inches("1/8"), "keep_um": feet(1), "bought_length_um": feet(20)}
    if "home" not in fields:
        usual["home"] = make_place(shop)
    return Item.objects.create(shop=shop, **(usual | fields))


@untrailed
def make_recipe(output: Item, *lines: tuple[Item, Decimal | int, int], **fields: Any) -> Recipe:
    """What one output consumes: (item, quantity, length in micrometres or 0) a line."""
    usual = {"name": f"Make {output.name}"}
    recipe = Recipe.objects.create(shop=output.shop, output=output, **(usual | fields))
    for item, quantity, length_um in lines:
        RecipeLine.objects.create(
            recipe=recipe, item=item, quantity=Decimal(quantity), length_um=length_um
        )
    return recipe


@untrailed
def make_station(shop: Shop, **fields: Any) -> Station:
    """A station with one bench that needs no sign-off."""
    n = next(_number)
    usual: dict[str, Any] = {"slug": f"station-{n}", "name": f"Station {n}"}
    usual["kind"] = Station.Kind.TAG
    if "room" not in fields:
        usual["room"] = make_room(shop)
    return Station.objects.create(shop=shop, **(usual | fields))


@untrailed
def make_tool(shop: Shop, *stations: Station, **fields: Any) -> Tool:
    """A tool of the stations."""
    tool = Tool.objects.create(shop=shop, **({"name": f"Tool {next(_number)}"} | fields))
    tool.stations.set(stations)
    return tool


@untrailed
def make_operation(station: Station, recipe: Recipe | None = None, **fields: Any) -> Operation:
    """An operation of four minutes a piece; makes an item of its own without a recipe."""
    n = next(_number)
    usual = {"slug": f"operation-{n}", "name": f"Operation {n}", "minutes_per_piece": Decimal(4)}
    recipe = recipe or make_recipe(make_item(station.shop))
    return Operation.objects.create(
        shop=station.shop, station=station, recipe=recipe, **(usual | fields)
    )


@untrailed
def make_part(shop: Shop, **fields: Any) -> Part:
    """A drawn part of two feet, cut from tube."""
    usual: dict[str, Any] = {"name": f"Part {next(_number)}", "length_um": feet(2)}
    if "item" not in fields:
        usual["item"] = make_item(shop)
    if "stock" not in fields:
        usual["stock"] = make_item(shop, kind=Item.Kind.METAL)
    return Part.objects.create(shop=shop, **(usual | fields))


@untrailed
def make_sheet(shop: Shop, **fields: Any) -> BuildSheet:
    """A build sheet in draft."""
    n = next(_number)
    usual: dict[str, Any] = {"name": f"Sheet {n}", "drawing_number": f"WB-{n}"}
    if "set_item" not in fields:
        usual["set_item"] = make_item(shop, kind=Item.Kind.SET)
    return BuildSheet.objects.create(shop=shop, **(usual | fields))


@untrailed
def make_person(shop: Shop, **fields: Any) -> Person:
    """A grown-up without a date of birth."""
    usual: dict[str, Any] = {"first_name": "Pat", "last_name": f"Number{next(_number)}"}
    usual["is_adult_declared"] = "born_on" not in fields
    return Person.objects.create(shop=shop, **(usual | fields))


@untrailed
def make_minor(shop: Shop, guardian: Person | None = None, **fields: Any) -> Person:
    """A fifteen-year-old, with a guardian's consent when one is given."""
    usual = {"first_name": "Mina", "born_on": date(TODAY.year - 15, 1, 1)}
    minor = make_person(shop, **(usual | fields))
    if guardian:
        Guardianship.objects.create(
            shop=shop, minor=minor, guardian=guardian, consent_on=date(2025, 10, 1)
        )
    return minor


@untrailed
def make_sign_off(
    person: Person, station: Station, level: int = Level.ALONE, **fields: Any
) -> SignOff:
    """A current sign-off, taken over from paper unless ``signed_by`` is given."""
    usual = {"signed_on": date(2025, 11, 5), "valid_until": date(2026, 11, 4)}
    usual_evidence = {} if "signed_by" in fields else {"evidence": "paper register"}
    return SignOff.objects.create(
        shop=person.shop, person=person, station=station, level=level,
        **(usual | usual_evidence | fields),
    )  # fmt: skip


@untrailed
def take_back(sign_off: SignOff) -> Review:
    """The sign-off was a mistake and never counted: nothing is erased in the register."""
    return Review.objects.create(
        shop=sign_off.shop, sign_off=sign_off, verdict=Review.Verdict.MISTAKE, on=TODAY,
        reason="of another person", reviewed_by="Carla",
    )  # fmt: skip


@untrailed
def make_bar(person: Person, station: Station | None = None, **fields: Any) -> Bar:
    """A bar in force since the first of December; from every station unless one is given."""
    usual = {"reason": "left the guard off", "set_by": "Arno Signer"}
    usual_at = {"set_at": datetime(2025, 12, 1, 20, 0, tzinfo=UTC)}
    return Bar.objects.create(
        shop=person.shop, person=person, station=station, **(usual | usual_at | fields)
    )


@untrailed
def make_waiver(person: Person, **fields: Any) -> Waiver:
    """A waiver that counts this winter."""
    usual = {"version": "2025", "signed_on": date(2025, 10, 1), "valid_until": date(2026, 9, 30)}
    return Waiver.objects.create(shop=person.shop, person=person, **(usual | fields))


@untrailed
def make_night(shop: Shop, *, blocks: int = 3, **fields: Any) -> Night:
    """Tonight, doors 18:00 to lock-up 21:00, in blocks of forty minutes from 18:30."""
    usual = {"date": TODAY, "doors": time(18), "stop": time(20, 30), "lock_up": time(21)}
    night = Night.objects.create(shop=shop, **(usual | fields))
    for index in range(blocks):
        starts, ends = 18 * 60 + 30 + 40 * index, 18 * 60 + 70 + 40 * index
        Block.objects.create(
            night=night, index=index,
            starts=time(starts // 60, starts % 60), ends=time(ends // 60, ends % 60),
        )  # fmt: skip
    return night


@untrailed
def make_sign_up(night: Night, person: Person, **fields: Any) -> SignUp:
    """Somebody who means to come the whole night."""
    return SignUp.objects.create(night=night, person=person, **fields)


@untrailed
def make_winter(shop: Shop, **fields: Any) -> Winter:
    """The winter of the frozen clock."""
    usual = {
        "name": "2025–26", "starts_on": date(2025, 11, 1), "ends_on": date(2026, 3, 31),
        "ready_from": date(2026, 3, 1), "ready_by": date(2026, 3, 15),
    }  # fmt: skip
    return Winter.objects.create(shop=shop, **(usual | fields))
