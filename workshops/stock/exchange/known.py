"""What the shop has already, as the rows of a list name it: items, places, what lies where."""

from __future__ import annotations

from collections import defaultdict
from decimal import Decimal

from inventory.ledger.models import Balance
from inventory.materials.models import Item
from inventory.places.actions import add_place
from inventory.places.models import Place, Shop

# item, place as it is compared, condition, length
Spot = tuple[int, str, str, int]


class NoSuchPlace(ValueError):
    """A place that the shop does not have."""


def word(text: str) -> str:
    """A name as it is compared: small letters, one blank between words."""
    return " ".join(text.casefold().split())


class Known:
    """Items by key and by name, places by name. 2 queries, and 1 more for what lies there."""

    def __init__(self, shop: Shop, *, may_add_places: bool = False) -> None:
        self.shop, self.may_add_places = shop, may_add_places
        self.by_key: dict[str, Item] = {}
        self.by_name: dict[str, list[Item]] = defaultdict(list)
        for item in Item.objects.filter(shop=shop).select_related("home"):
            # The very shop at hand: spelling a length must not ask for it item by item.
            item.shop = shop
            self.by_key[item.slug] = item
            for name in {word(item.name), word(str(item))}:
                self.by_name[name].append(item)
        self.places = {word(place.name): place for place in Place.objects.filter(shop=shop)}
        self.added: dict[str, Place] = {}
        self.lacking: dict[str, str] = {}

    def item(self, key: str | None, name: str | None) -> Item:
        """The item of a row, by its key or else by its name.

        Raises
        ------
        ValueError
            When there is none, or several go by the name.
        """
        if key:
            if key not in self.by_key:
                raise ValueError(f"No item has the key “{key}”. Leave it empty and write the name.")
            return self.by_key[key]
        if not name:
            raise ValueError("Write which item it is.")
        found = self.by_name.get(word(name), [])
        if len(found) > 1:
            keys = ", ".join(item.slug for item in found[:4])
            raise ValueError(f"Several items go by “{name}”. Write the key of one: {keys}.")
        if found:
            return found[0]
        if name in self.by_key:
            return self.by_key[name]
        raise ValueError(f"There is no item “{name}”. Add the item first, or mend its name.")

    def place(self, name: str) -> Place:
        """The place of that name; a new one that is not kept yet when places may be added.

        Raises
        ------
        NoSuchPlace
            When there is none and none may be added.
        """
        key = word(name)
        found = self.places.get(key) or self.added.get(key)
        if found:
            return found
        # The longest name a place can have; a longer one is no place but a slipped column.
        if len(name) > 60:
            raise ValueError("The name of a place has at most 60 letters.")
        if not self.may_add_places:
            self.lacking.setdefault(key, name)
            raise NoSuchPlace(f"There is no place “{name}”. Add the place first.")
        return self.added.setdefault(key, Place(shop=self.shop, name=" ".join(name.split())))

    def real(self, place: Place) -> Place:
        """The place as a row: one that was only promised is added now."""
        if place.pk:
            return place
        key = word(place.name)
        if key not in self.places:
            self.places[key] = add_place(shop=self.shop, name=place.name)
        return self.places[key]

    def quantities(self) -> dict[Spot, Decimal]:
        """What lies in every spot of the shop. 1 query."""
        rows = Balance.objects.filter(item__shop=self.shop)
        named = rows.values_list("item", "place__name", "condition", "length_um", "quantity")
        return {
            (item, word(place), condition, length): quantity
            for item, place, condition, length, quantity in named
        }


def checked_length(item: Item, length_um: int | None) -> int:
    """The length of a row's pieces, 0 for what is not held by length.

    Raises
    ------
    ValueError
        When the one lacks a length or the other has one.
    """
    if item.is_by_length and not length_um:
        raise ValueError(f"{item} is held by length: say how long each piece is.")
    if length_um and not item.is_by_length:
        raise ValueError(f"{item} is not held by length: leave the length empty.")
    return length_um or 0


def checked_quantity(item: Item, quantity: Decimal) -> Decimal:
    """The quantity, whole for pieces of a length.

    Raises
    ------
    ValueError
        For part of a piece, or less than nothing.
    """
    if quantity < 0:
        raise ValueError("A quantity cannot be less than nothing.")
    if item.is_by_length and quantity % 1:
        raise ValueError(f"Pieces of {item} are counted whole.")
    return quantity
