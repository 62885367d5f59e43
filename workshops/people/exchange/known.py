"""What the shop has already of the people a list names, read in one go."""

from __future__ import annotations

from collections import defaultdict
from datetime import date, datetime
from types import SimpleNamespace
from typing import Any

from django.utils import timezone

from inventory.places.models import Shop
from workshops.club.queries import rules_of
from workshops.common.columns import TypedRow
from workshops.people.alike import digits, full_name, likeness
from workshops.people.lives import lives_of
from workshops.people.models import Person, Review, SignOff, Waiver
from workshops.people.names import told_apart
from workshops.stations.models import Station


class Known:
    """People by name and number, their waivers and sign-offs: six queries for any list."""

    def __init__(self, shop: Shop, at: datetime | None = None) -> None:
        self.shop, self.today = shop, (at or timezone.now()).astimezone(shop.zone).date()
        self.people = {row.pk: row for row in Person.objects.filter(shop=shop, merged_into=None)}
        self.names = told_apart(self.people.values())
        self.stations = {row.pk: row for row in stations_of(shop)}
        self.rules = rules_of(shop)
        self.lives = lives_of(shop, self.rules, self.today)
        self.by_name: defaultdict[str, list[Person]] = defaultdict(list)
        for row in self.people.values():
            row.shop = shop
            self.by_name[full_name(row)].append(row)
        self.waivers: defaultdict[int, list[Waiver]] = defaultdict(list)
        for waiver in Waiver.objects.filter(shop=shop):
            self.waivers[waiver.person_id].append(waiver)
        self.sign_offs = sign_offs_of(shop)

    def longest(self, station: int, signed_on: date) -> date | None:
        """How long a sign-off of that day counts by the club's rules."""
        return self.lives.at(station).longest(signed_on)

    def namesakes(self, told: Any) -> tuple[list[Person], list[Person]]:
        """Those of that name whom nothing in the row contradicts, and those it does."""
        found = self.by_name.get(full_name(told), [])
        fit = [row for row in found if not differs(told, row)]
        return fit, [row for row in found if row not in fit]

    def like(self, told: Any) -> list[Person]:
        """Those of another name who may be meant."""
        return [row for row in self.people.values() if likeness(told, row)]


def told_of(row: TypedRow) -> Any:
    """What the row tells of somebody, as ``likeness`` reads it."""
    names = ("first_name", "last_name", "email", "phone")
    texts = {name: row.values.get(name) or "" for name in names}
    return SimpleNamespace(
        **texts, born_on=row.values.get("born_on"), joined_on=row.values.get("joined_on")
    )


def differs(told: Any, row: Person) -> bool:
    """Whether a date of birth or an address of the row is another one."""
    is_born = told.born_on and row.born_on and told.born_on != row.born_on
    is_at = told.email and row.email and told.email.casefold() != row.email.casefold()
    return bool(is_born or is_at)


def agrees(told: Any, row: Person) -> bool:
    """Whether the row tells more than the name of that very person."""
    return bool(
        (told.born_on and told.born_on == row.born_on)
        or (told.email and told.email.casefold() == row.email.casefold())
        or (digits(told.phone) and digits(told.phone) == digits(row.phone))
        or (told.joined_on and told.joined_on == row.joined_on)
    )


def stations_of(shop: Shop) -> list[Station]:
    """The stations that a list has a column for. 1 query."""
    rows = Station.objects.filter(shop=shop, is_in_use=True, level_needed__isnull=False)
    return list(rows.order_by("sequence", "pk"))


def sign_offs_of(shop: Shop) -> dict[tuple[int, int], list[tuple[SignOff, bool]]]:
    """Person and station -> sign-offs, latest first, and whether a review ended each. 2 queries."""
    ended = set(
        Review.objects.filter(shop=shop)
        .exclude(verdict=Review.Verdict.STANDS)
        .values_list("sign_off", flat=True)
    )
    found: defaultdict[tuple[int, int], list[tuple[SignOff, bool]]] = defaultdict(list)
    for row in SignOff.objects.filter(shop=shop).order_by("-signed_on", "-pk"):
        found[row.person_id, row.station_id].append((row, row.pk in ended))
    return found
