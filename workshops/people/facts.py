"""What the gate looks at: people and stations as plain facts on one day.

Loading is a fixed number of queries, however many people and stations there are.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date, datetime

from django.db.models import F, OuterRef, Q, QuerySet, Subquery

from inventory.places.models import Shop
from workshops.people.lives import Lives
from workshops.people.models import Bar, Guardianship, Person, Waiver
from workshops.people.register import Signed, latest_lines
from workshops.stations.models import Level, Station


@dataclass(frozen=True, slots=True)
class Barred:
    """A bar or suspension in force on the day; no station: from everywhere."""

    station: int | None
    reason: str
    until: date | None = None


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
    # Suspensions that leave the person beside a lead, at one station each.
    only_with_a_lead: tuple[Barred, ...] = ()

    @property
    def pk(self) -> int:
        """The id, as a row has it."""
        return self.id

    @property
    def name(self) -> str:
        """First and last name."""
        return f"{self.first_name} {self.last_name}".strip()

    @property
    def short_name(self) -> str:
        """First name and initial: what the gate says is read on tablets that lie open."""
        return f"{self.first_name} {self.last_name[:1]}." if self.last_name else self.first_name

    def current(self, station: int, on: date) -> Signed | None:
        """The sign-off at a station when it counts on the day."""
        signed = self.signed.get(station)
        return signed if signed is not None and signed.is_current(on) else None

    def bar_at(self, station: int) -> Barred | None:
        """The bar that keeps the person from a station, or None."""
        # One is enough to stop somebody; the page of the person lists all.
        for bar in self.bars:
            if bar.station is None or bar.station == station:
                return bar
        return None

    def lead_needed_at(self, station: int) -> Barred | None:
        """The suspension that lets the person work there only beside a lead, or None."""
        for each in self.only_with_a_lead:
            if each.station == station:
                return each
        return None


@dataclass(frozen=True, slots=True)
class StationFacts:
    """What a station asks of whoever stands there."""

    id: int
    shop: int
    name: str
    kind: str = ""
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

    @property
    def has_learners(self) -> bool:
        """Whether people learn there beside a lead: not where being shown is all it takes."""
        return self.level_needed is not None and self.level_needed >= Level.WITH_A_LEAD


@dataclass(frozen=True, slots=True)
class Prerequisite:
    """A station, or training, whose sign-off must count too, at the level it asks for."""

    pk: int
    name: str
    level_needed: Level | None


def load_people(
    shop: Shop,
    on: date,
    adult_age: int,
    person: Person | None = None,
    *,
    lives: Lives,
    known: datetime | None = None,
) -> dict[int, PersonFacts]:
    """Facts of everybody in the shop, or of one person: four queries.

    With ``known``, sign-offs and bars as the register had them at that moment.
    """
    rows = _with_waivers(shop, on)
    only = Q()
    if person is not None:
        rows, only = rows.filter(pk=person.pk), Q(person=person)
    the_one = Q() if person is None else Q(pk=person.pk)
    lines = latest_lines(shop, on, only=the_one, lives=lives, known=known)
    bars = _bars(shop, on, only, known)
    guardians = _guardians(shop, on, person)
    return {
        row.pk: _facts(
            row,
            on,
            adult_age=adult_age,
            lines=lines.get(row.pk, {}),
            bars=bars.get(row.pk, []),
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
    lines: dict[int, Signed],
    bars: list[Bar],
    guardians: list[tuple[int, bool]],
) -> PersonFacts:
    suspended = tuple(_barred(bar) for bar in bars if bar.only_with_a_lead)
    beside = {each.station for each in suspended}
    waiver_until: date | None = row.waiver_until  # type: ignore[attr-defined]
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
        signed=_lowered(lines, beside) if beside else lines,
        bars=tuple(_barred(bar) for bar in bars if not bar.only_with_a_lead),
        only_with_a_lead=suspended,
    )


def _lowered(lines: dict[int, Signed], beside: set[int | None]) -> dict[int, Signed]:
    # Lowered here, so that no reader of the facts can forget the suspension.
    return {
        at: replace(line, level=min(line.level, Level.WITH_A_LEAD)) if at in beside else line
        for at, line in lines.items()
    }


def _barred(bar: Bar) -> Barred:
    return Barred(bar.station_id, bar.reason, bar.until)


def _with_waivers(shop: Shop, on: date) -> QuerySet[Person]:
    """The people, each with the last day of the waiver that counts longest."""
    # The shop is asked beside the indexes: else SQLite reads all its waivers for each person.
    counting = Waiver.objects.alias(its_shop=F("shop_id") + 0).filter(
        person=OuterRef("pk"), its_shop=shop.pk, signed_on__lte=on, valid_until__gte=on
    )
    latest = counting.order_by("-valid_until").values("valid_until")[:1]
    return Person.objects.filter(shop=shop).annotate(waiver_until=Subquery(latest))


def _bars(shop: Shop, on: date, only: Q, known: datetime | None = None) -> dict[int, list[Bar]]:
    found: defaultdict[int, list[Bar]] = defaultdict(list)
    for bar in Bar.objects.filter(only, shop=shop):
        if known is not None and bar.set_at > known:
            continue
        if known is not None and bar.lifted_at and bar.lifted_at > known:
            bar.lifted_at = None  # as it stood then; the row is not saved
        # Asked in Python: the day on which a bar begins is a day of the shop, not of the database.
        if bar.holds_on(on, shop.zone):
            found[bar.person_id].append(bar)
    return found


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
        kind=row.kind,
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
