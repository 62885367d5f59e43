"""The rooms of a shop, as the navigation shows them: label, drawing, page, permission."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from django.urls import reverse


@dataclass(frozen=True)
class Corner:
    """One of the pages a room is made of, shown in the line below the rooms.

    We stand in it on its page and all below, and below the addresses ``also`` named,
    which follow the shop's own.
    """

    label: str
    page: str
    permission: str
    also: tuple[str, ...] = ()


@dataclass(frozen=True)
class Room:
    """One entry of the navigation; ``slice`` is the name space its pages share."""

    label: str
    icon: str
    slice: str
    page: str
    permission: str
    is_later: bool = False  # behind "More" on a phone
    corners: tuple[Corner, ...] = ()
    also: tuple[str, ...] = ()  # slices whose pages stand in this room

    def is_of(self, slice: str) -> bool:
        """Whether a page of that name space stands in this room."""
        return slice == self.slice or slice in self.also


@dataclass(frozen=True)
class Door:
    """A room or a corner as one person sees it now: where it leads, whether we stand in it."""

    room: Room | Corner
    url: str
    is_here: bool


STOCK = (
    Corner("On hand", "stock:on_hand", "see_stock"),
    Corner("Goods in", "stock:goods_in", "post_stock"),
    Corner("Deliveries", "stock:deliveries", "see_stock", ("stock/letters",)),
    Corner("Count", "stock:count", "post_stock", ("stock/stocktakes", "stock/count-")),
    Corner("Cut lists", "stock:cut_lists", "see_stock"),
    Corner("What to buy", "stock:needs", "see_stock", ("stock/set-costs",)),
    Corner("Orders", "stock:orders", "see_stock"),
    Corner("Straw watch", "stock:straw", "see_stock"),
    Corner("Drawing changes", "stock:cut_overs", "see_stock"),
    Corner("Lists in and out", "stock:lists", "see_stock"),
    Corner("Movements", "stock:movements", "see_stock"),
)

MINE = (
    Corner("My nights", "mine:nights", "see_mine"),
    Corner("My sign-offs", "mine:sign_offs", "see_mine"),
    Corner("My hours", "mine:hours", "see_mine"),
    Corner("My calendar", "mine:feed", "see_mine"),
    Corner("My details", "mine:details", "see_mine"),
)

PEOPLE = (
    Corner("People", "people:list", "see_people"),
    Corner("Sign-offs", "people:matrix", "see_people"),
    Corner("Train next", "training:training", "see_people"),
    Corner("Timetable", "training:timetable", "run_night"),
    Corner("Re-sign evening", "training:resign", "see_people"),
    Corner("Lapses", "training:lapses", "see_people"),
    Corner("Walk-in", "people:walk_in", "run_night"),
)

# In the order of an evening: what is asked most often comes first, the rest behind "More".
ROOMS = (
    Room("Tonight", "tonight", "home", "home:home", "see_home"),
    Room(
        "Nights",
        "nights",
        "nights",
        "nights:list",
        "see_nights",
        also=("counting", "tonight", "quality", "trouble", "lockup"),
    ),
    Room(
        "People",
        "people",
        "people",
        "people:list",
        "see_people",
        corners=PEOPLE,
        also=("training",),
    ),
    Room("Stock", "stock", "stock", "stock:on_hand", "see_stock", corners=STOCK),
    Room("Mine", "mine", "mine", "mine:nights", "see_mine", corners=MINE),
    Room("Build sheets", "sheets", "stations", "stations:sheets", "see_sheets", True),
    Room("Winter", "winter", "season", "season:winter", "see_season", True),
    Room("Paper", "paper", "paper", "paper:list", "make_paper", True),
    Room("Rules", "rules", "club", "club:rules", "see_home", True),
)


def doors(shop_slug: str, may: Collection[str], here: str) -> list[Door]:
    """The rooms somebody may enter; ``here`` is the name space of the page being shown."""
    return [
        Door(room, reverse(room.page, args=[shop_slug]), room.is_of(here))
        for room in ROOMS
        if room.permission in may
    ]


def corners(shop_slug: str, may: Collection[str], here: str, path: str) -> list[Door]:
    """The pages of the room we stand in; ``path`` is the address being shown.

    Empty in a room that has no corners, and on pages that stand in no room.
    """
    room = next((room for room in ROOMS if room.is_of(here)), None)
    found = [corner for corner in (room.corners if room else ()) if corner.permission in may]

    def length(corner: Corner) -> int:
        also = (f"/{shop_slug}/{below}" for below in corner.also)
        below = (reverse(corner.page, args=[shop_slug]), *also)
        return max((len(url) for url in below if path.startswith(url)), default=0)

    # The longest address that leads here: the room's first page is the beginning of every one.
    current = max(found, key=length, default=None)
    return [Door(one, reverse(one.page, args=[shop_slug]), one is current) for one in found]
