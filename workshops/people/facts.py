"""What the gate looks at: people and stations as plain facts on one day.

Loading is a fixed number of queries, however many people and stations there are.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date

from django.db.models import Q, Window
from django.db.models.functions import RowNumber

from inventory.places.models import Shop
from workshops.people.models import Bar, Guardianship, Person, SignOff, Waiver
from workshops.stations.models import Level, Station


@dataclass(frozen=True, slots=True)
class Signed:
    """The sign-off that counts at a station on the day: the latest one signed by then.

    A later sign-off replaces an earlier one, also when it goes less far.
    """

    level: Level
    signed_on: date
    valid_until: date | None

    def is_current(self, on: date) -> bool:
        """Whether it still counts on a day; its last day counts."""
        return self.valid_until is None or self.valid_until >= on


@dataclass(frozen=True, slots=True)
class Barred:
    """A bar in force on the day; no station: from everywhere."""

    station: int | None
    reason: str


@dataclass(frozen=True, slots=True)
class PersonFacts:
    """One person on one day.

    ``age`` is none when no date of birth is kept; ``is_adult`` then says whether the person
    declared to be of age. Somebody of unknown age who declared nothing counts as a minor.
    """

    id: int
    shop: int
    first_name: str
    last_name: str
    joined_on: date
    is_active: bool
    age: int | None
    is_adult: bool
    no_dust: bool = False
    seated_only: bool = False
    no_heavy: bool = False
    has_waiver: bool = False
    waiver_until: date | None = None
    guardians: tuple[int, ...] = ()
    has_consent: bool = False
    signed: dict[int, Signed] = field(default_factory=dict)
    bars: tuple[Barred, ...] = ()

    @property
    def pk(self) -> int:
        """The id, as a row has it."""
        return self.id

    @property
    def name(self) -> str:
        """First and last name."""
        return f"{self.first_name} {self.last_name}".strip()

    def current(self, station: int, on: date) -> Signed | None:
        """The sign-off at a station when it counts on the day."""
        signed = self.signed.get(station)
        return signed if signed and signed.is_current(on) else None

    def bar_at(self, station: int) -> Barred | None:
        """The bar that keeps the person from a station, or None."""
        # One is enough to stop somebody; the page of the person lists all.
        return next((bar for bar in self.bars if bar.station in (None, station)), None)


@dataclass(frozen=True, slots=True)
class StationFacts:
    """What a station asks of whoever stands there."""

    id: int
    shop: int
    name: str
    is_in_use: bool = True
    level_needed: Level | None = None
    age_min: int | None = None
    is_dusty: bool = False
    is_heavy: bool = False
    can_sit: bool = False
    prerequisites: tuple[Prerequisite, ...] = ()

    @property
    def pk(self) -> int:
        """The id, as a row has it."""
        return self.id


@dataclass(frozen=True, slots=True)
class Prerequisite:
    """A station, or training, whose sign-off must count too, at the level it asks for."""

    pk: int
    name: str
    level_needed: Level | None


def load_people(
    shop: Shop, on: date, adult_age: int, person: Person | None = None
) -> dict[int, PersonFacts]:
    """Facts of everybody in the shop, or of one person: five queries."""
    rows = Person.objects.filter(shop=shop)
    only = Q()
    if person is not None:
        rows, only = rows.filter(pk=person.pk), Q(person=person)
    signed = _signed(shop, on, only)
    bars = _bars(shop, on, only)
    waivers = _waivers(shop, on, only)
    guardians = _guardians(shop, on, person)
    return {
        row.pk: _facts(
            row,
            on,
            adult_age=adult_age,
            signed=signed.get(row.pk, {}),
            bars=tuple(bars.get(row.pk, ())),
            waiver_until=waivers.get(row.pk),
            guardians=guardians.get(row.pk, []),
        )
        for row in rows
    }


def load_stations(shop: Shop, station: Station | None = None) -> dict[int, StationFacts]:
    """Facts of all stations of the shop, or of one: two queries."""
    rows = Station.objects.filter(shop=shop).prefetch_related("prerequisites")
    if station is not None:
        rows = rows.filter(pk=station.pk)
    return station_facts(rows)


def station_facts(rows: Iterable[Station]) -> dict[int, StationFacts]:
    """Facts of stations, by id; no query when their prerequisites are at hand."""
    return {row.pk: _station_facts(row) for row in rows}


def _facts(
    row: Person,
    on: date,
    *,
    adult_age: int,
    signed: dict[int, Signed],
    bars: tuple[Barred, ...],
    waiver_until: date | None,
    guardians: list[tuple[int, bool]],
) -> PersonFacts:
    return PersonFacts(
        id=row.pk,
        shop=row.shop_id,
        first_name=row.first_name,
        last_name=row.last_name,
        joined_on=row.joined_on,
        is_active=row.is_active,
        age=row.age_on(on),
        is_adult=row.is_adult_on(on, adult_age),
        no_dust=row.no_dust,
        seated_only=row.seated_only,
        no_heavy=row.no_heavy,
        has_waiver=waiver_until is not None,
        waiver_until=waiver_until,
        guardians=tuple(guardian for guardian, _ in guardians),
        has_consent=any(consent for _, consent in guardians),
        signed=signed,
        bars=bars,
    )


def _signed(shop: Shop, on: date, only: Q) -> dict[int, dict[int, Signed]]:
    # Ranked by the database: after ten winters most rows are of old, and not worth reading.
    latest = Window(RowNumber(), partition_by=["person", "station"], order_by=["-signed_on", "-pk"])
    rows = (
        SignOff.objects.filter(only, shop=shop, signed_on__lte=on)
        .annotate(place=latest)
        .filter(place=1)
        .order_by()
        .values_list("person_id", "station_id", "level", "signed_on", "valid_until")
    )
    found: defaultdict[int, dict[int, Signed]] = defaultdict(dict)
    for person, station, level, signed_on, valid_until in rows:
        found[person][station] = Signed(Level(level), signed_on, valid_until)
    return found


def _bars(shop: Shop, on: date, only: Q) -> dict[int, list[Barred]]:
    found: defaultdict[int, list[Barred]] = defaultdict(list)
    for bar in Bar.objects.filter(only, shop=shop):
        # Asked in Python: the day on which a bar begins is a day of the shop, not of the database.
        if bar.holds_on(on, shop.zone):
            found[bar.person_id].append(Barred(bar.station_id, bar.reason))
    return found


def _waivers(shop: Shop, on: date, only: Q) -> dict[int, date]:
    rows = (
        Waiver.objects.filter(only, shop=shop, signed_on__lte=on, valid_until__gte=on)
        # The one that counts longest comes last, and the last one wins in the dict.
        .order_by("valid_until")
        .values_list("person_id", "valid_until")
    )
    return dict(rows)


def _guardians(shop: Shop, on: date, minor: Person | None) -> dict[int, list[tuple[int, bool]]]:
    rows: Iterable[Guardianship] = Guardianship.objects.filter(shop=shop)
    if minor is not None:
        rows = Guardianship.objects.filter(shop=shop, minor=minor)
    found: defaultdict[int, list[tuple[int, bool]]] = defaultdict(list)
    for row in rows:
        # A consent signed today opens no night of last week.
        has_consent = row.consent_on is not None and row.consent_on <= on
        found[row.minor_id].append((row.guardian_id, has_consent))
    return found


def _station_facts(row: Station) -> StationFacts:
    return StationFacts(
        id=row.pk,
        shop=row.shop_id,
        name=row.name,
        is_in_use=row.is_in_use,
        level_needed=level_or_none(row.level_needed),
        age_min=row.age_min,
        # Who keeps away from dust keeps away from straw; no sheet has to say both.
        is_dusty=row.is_dusty or row.is_straw,
        is_heavy=row.is_heavy,
        can_sit=row.can_sit,
        prerequisites=tuple(
            Prerequisite(needed.pk, needed.name, level_or_none(needed.level_needed))
            for needed in row.prerequisites.all()
        ),
    )


def level_or_none(level: int | None) -> Level | None:
    """The level of a column that may be empty."""
    return None if level is None else Level(level)
