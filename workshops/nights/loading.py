"""The rows of a night, loaded once in a fixed number of queries, and the problem they make."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import timedelta
from functools import cached_property

from django.db.models import F, Q

from inventory.ledger.queries import on_hand
from inventory.places.models import Shop
from workshops.nights import translate
from workshops.nights.clock import minutes
from workshops.nights.coming import Coming, coming_to
from workshops.nights.engine.placings import Placing as PlacedAt
from workshops.nights.engine.placings import Watching
from workshops.nights.engine.problem import Lock, Problem
from workshops.nights.making import Shopful
from workshops.nights.models import Aim, Block, Night, Placing, RollLine
from workshops.people.gate import Register, register_on
from workshops.people.models import Person
from workshops.stations.models import Operation, Station
from workshops.stations.queries import standing_stops

ROTATION_DAYS = 21  # how far back the plan looks for "had that station last time"


@dataclass(frozen=True)
class Loaded:
    """A night with everything that the placing rules look at. Loading takes 13 queries."""

    night: Night
    blocks: list[Block]
    coming: list[Coming]
    register: Register
    stations: list[Station]
    placings: list[Placing]
    week: Mapping[int, int] = field(default_factory=dict)

    def problem(
        self,
        *,
        making: Shopful | None = None,
        locks: Sequence[Lock] = (),
        previous: Sequence[Lock] = (),
        last_stations: Mapping[int, tuple[str, ...]] | None = None,
        likes: Mapping[int, tuple[str, ...]] | None = None,
    ) -> Problem:
        """The night as the engine asks it; without ``making`` only its rules can be checked."""
        return Problem(
            date=self.night.date.isoformat(),
            blocks=translate.spans(self.blocks),
            lock_up=minutes(self.night.lock_up),
            club=translate.club_rules(self.register),
            people=translate.people(
                self.coming,
                self.register,
                last_stations=last_stations or {},
                likes=likes or {},
                placed={row.person_id for row in self.placings},
                week=self.week,
            ),
            stations=translate.stations(self.stations, self.register, self.night),
            tools=translate.tools(self.stations, self.register),
            operations=making.runs if making else (),
            pieces=making.pieces if making else (),
            materials=making.materials if making else (),
            sets=making.sets if making else (),
            locks=tuple(locks),
            previous=tuple(previous),
            floor_places=self.register.rules.floor_holds,
        )

    @cached_property
    def bare(self) -> Problem:
        """The night without what is made: all that its rules look at."""
        return self.problem()

    def placed(self) -> tuple[tuple[PlacedAt, ...], tuple[Watching, ...]]:
        """The placings that stand, as the rules read them."""
        return translate.placed(self.placings, self.blocks, self.bare)


def load(night: Night) -> Loaded:
    """Load a night: blocks, who comes, the register of that day, stations, placings."""
    # A station taken out of use stays in sight while somebody is still placed there.
    placed_at = Placing.objects.filter(night=night).values("station")
    rows = Station.objects.filter(Q(is_in_use=True) | Q(pk__in=placed_at), shop=night.shop)
    rows = rows.select_related("room").prefetch_related("tools", "prerequisites", standing_stops())
    stations = list(rows)
    register = register_on(night.shop, night.date, stations=stations)
    return Loaded(
        night=night,
        blocks=list(night.blocks.all()),
        coming=coming_to(night),
        register=register,
        stations=stations,
        placings=list(Placing.objects.filter(night=night).select_related("room")),
        # Asked only where the club adopted hours for young people.
        week=minutes_of_the_week(night) if register.rules.young_hours else {},
    )


def minutes_of_the_week(night: Night) -> dict[int, int]:
    """Person -> minutes in the building since Monday, before the night. 1 query."""
    monday = night.date - timedelta(days=night.date.weekday())
    stays = RollLine.objects.filter(
        night__shop=night.shop,
        night__date__gte=monday,
        night__date__lt=night.date,
        out_at__gt=F("in_at"),
    )
    found: dict[int, int] = {}
    for person, in_at, out_at in stays.values_list("person", "in_at", "out_at"):
        if out_at:
            found[person] = found.get(person, 0) + round((out_at - in_at).total_seconds() / 60)
    return found


def load_making(shop: Shop) -> Shopful:
    """What is made in the shop and from what: 7 queries."""
    operations = Operation.objects.filter(
        shop=shop, is_in_use=True, recipe__is_in_use=True, station__is_in_use=True
    )
    rows = operations.select_related("station", "recipe__output").prefetch_related(
        "recipe__lines__item__shop"
    )
    return Shopful(
        operations=list(rows),
        on_hand={each.item.pk: each for each in on_hand(shop)},
        aims=dict(Aim.objects.filter(shop=shop).values_list("item", "wanted")),
    )


def last_stations(night: Night) -> dict[int, tuple[str, ...]]:
    """Person -> stations of the last nights, latest first. 1 query."""
    since = night.date - timedelta(days=ROTATION_DAYS)
    rows = (
        Placing.objects.filter(
            night__shop=night.shop, night__date__gte=since, night__date__lt=night.date
        )
        .order_by("-night__date", "-block__index")
        .values_list("person", "station")
    )
    return _each_once(rows)


def likes_of(night: Night) -> dict[int, tuple[str, ...]]:
    """Person -> stations they like, of those who answered. 1 query."""
    liked = Person.likes.through.objects.filter(person__sign_ups__night=night)
    return _each_once(liked.order_by("pk").values_list("person", "station"))


def _each_once(rows: Iterable[tuple[int, int]]) -> dict[int, tuple[str, ...]]:
    found: dict[int, dict[str, None]] = {}
    for person, station in rows:
        found.setdefault(person, {})[str(station)] = None
    return {person: tuple(stations) for person, stations in found.items()}
