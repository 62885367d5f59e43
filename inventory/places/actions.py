"""Adding places to a shop."""

from __future__ import annotations

from inventory.places.models import Place, Room, Shop

FLOOR = "Shop floor"


def add_room(*, shop: Shop, name: str) -> Room:
    """A room of that name: the one there is, or a new one."""
    return Room.objects.get_or_create(shop=shop, name=name.strip())[0]


def add_place(*, shop: Shop, name: str, room: Room | None = None, note: str = "") -> Place:
    """A place of that name: the one there is, or a new one."""
    # Two people may name one new shelf at once; the second is given the first's.
    found, _ = Place.objects.get_or_create(
        shop=shop, name=name.strip(), defaults={"room": room, "note": note}
    )
    return found


def floor_of(shop: Shop) -> Place:
    """Where things lie that nobody gave a place: made when it is first needed. 1 query."""
    return add_place(shop=shop, name=FLOOR, note="for things that have no place of their own")
