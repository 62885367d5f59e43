"""The rooms of a shop, as the navigation shows them: label, drawing, page, permission."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from django.urls import reverse


@dataclass(frozen=True)
class Room:
    """One entry of the navigation; ``slice`` is the name space its pages share."""

    label: str
    icon: str
    slice: str
    page: str
    permission: str
    is_later: bool = False  # behind "More" on a phone


@dataclass(frozen=True)
class Door:
    """A room as one person sees it now: where it leads, and whether we stand in it."""

    room: Room
    url: str
    is_here: bool


# In the order of an evening: what is asked most often comes first, the rest behind "More".
ROOMS = (
    Room("Tonight", "tonight", "home", "home:home", "see_home"),
    Room("Nights", "nights", "nights", "nights:list", "see_nights"),
    Room("People", "people", "people", "people:list", "see_people"),
    Room("Stock", "stock", "stock", "stock:on_hand", "see_stock"),
    Room("Build sheets", "sheets", "stations", "stations:sheets", "see_sheets", True),
    Room("Winter", "winter", "season", "season:winter", "see_season", True),
    Room("Paper", "paper", "paper", "paper:list", "make_paper", True),
    Room("Rules", "rules", "club", "club:rules", "see_home", True),
)


def doors(shop_slug: str, may: Collection[str], here: str) -> list[Door]:
    """The rooms somebody may enter; ``here`` is the name space of the page being shown."""
    return [
        Door(room, reverse(room.page, args=[shop_slug]), room.slice == here)
        for room in ROOMS
        if room.permission in may
    ]
