"""The register on a past day: what held then, as it is known now or as it was known then."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from inventory.places.models import Shop
from workshops.people.days import spell_day
from workshops.people.facts import Barred, PersonFacts, StationFacts
from workshops.people.gate import Register, register_on
from workshops.people.models import Person, Review, SignOff
from workshops.people.names import told_apart
from workshops.people.register import Signed


@dataclass(frozen=True, slots=True)
class Held:
    """What the register says of one person at one station on the day."""

    person: int
    name: str
    station: StationFacts
    signed: Signed
    row: SignOff
    is_current: bool
    stop: str
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Then:
    """The register on a day. ``known`` is the moment as of which it is told; None: now."""

    on: date
    known: datetime | None
    lines: list[Held]
    bars: list[tuple[str, str]]

    @property
    def current(self) -> list[Held]:
        """The lines that counted on the day."""
        return [line for line in self.lines if line.is_current]

    @property
    def gone(self) -> list[Held]:
        """The lines that had ended by then."""
        return [line for line in self.lines if not line.is_current]


def end_of(day: date, shop: Shop) -> datetime:
    """The last moment of a day of the shop: what was written down later was not known then."""
    return datetime.combine(day + timedelta(days=1), time(), tzinfo=shop.zone) - timedelta(
        microseconds=1
    )


def register_then(
    shop: Shop, on: date, *, known: datetime | None = None, station: int | None = None
) -> Then:
    """What held on a day, of all stations or of one: ten queries for any day and size.

    With ``known``, sign-offs, reviews and bars written down later are left out. Ages, limits
    and waivers are as they stand now: only the register keeps its past.
    """
    register = register_on(shop, on, known=known)
    asked = [
        (facts, register.stations[at], signed)
        for facts in register.people.values()
        for at, signed in facts.signed.items()
        if at in register.stations and station in (None, at)
    ]
    rows = _rows(shop, station, {signed.row for _, _, signed in asked})
    reviews = _reviews(shop, set(rows))
    names = told_apart(register.people.values())
    lines = [
        Held(
            person=facts.pk,
            name=names[facts.pk],
            station=where,
            signed=signed,
            row=rows[signed.row],
            is_current=signed.is_current(on),
            stop=_stop(facts, where.pk),
            notes=tuple(_notes(rows[signed.row], reviews.get(signed.row, []), on, shop)),
        )
        for facts, where, signed in asked
    ]
    lines.sort(key=lambda line: (line.station.name, -line.signed.level, line.name))
    return Then(on, known, lines, list(_bars(register, names)))


def _rows(shop: Shop, station: int | None, wanted: set[int]) -> dict[int, SignOff]:
    rows = SignOff.objects.filter(shop=shop).select_related("signed_by").order_by()
    if station is not None:
        rows = rows.filter(station=station)
    # Filtered here: hundreds of numbers in one question are more than a database likes.
    return {row.pk: row for row in rows if row.pk in wanted}


def _reviews(shop: Shop, wanted: set[int]) -> dict[int, list[Review]]:
    found: dict[int, list[Review]] = {}
    for review in Review.objects.filter(shop=shop).order_by("recorded_at", "pk"):
        if review.sign_off_id in wanted:
            found.setdefault(review.sign_off_id, []).append(review)
    return found


def _stop(facts: PersonFacts, station: int) -> str:
    if facts.bar_at(station):
        return "barred"
    return "only beside a lead" if facts.lead_needed_at(station) else ""


def _notes(row: SignOff, reviews: list[Review], on: date, shop: Shop) -> Iterator[str]:
    """What was written about the line after the day: told, whichever way it is looked at."""
    written = row.recorded_at.astimezone(shop.zone).date()
    if written > on:
        yield f"written down later, on {spell_day(written)}"
    for review in reviews:
        day = spell_day(review.recorded_at.astimezone(shop.zone).date())
        said = {"stands": "confirmed", "withdrawn": "withdrawn", "mistake": "found a mistake"}
        yield f"{said[review.verdict]} on {day} by {review.reviewed_by}: {review.reason}"


def _bars(register: Register, names: dict[int, str]) -> Iterator[tuple[str, str]]:
    for facts in register.people.values():
        for bar in facts.bars:
            yield names[facts.pk], f"barred from {_where(register, bar)}"
        for bar in facts.only_with_a_lead:
            yield names[facts.pk], f"only beside a lead at {_where(register, bar)}"


def _where(register: Register, bar: Barred) -> str:
    if bar.station is None:
        return "every station"
    place = register.stations.get(bar.station)
    return place.name if place else "a station no longer kept"


@dataclass(frozen=True, slots=True)
class SignedLine:
    """One sign-off that somebody signed, how it stands, and what second looks found."""

    row: SignOff
    counts: bool
    reviews: list[Review]

    @property
    def is_ended(self) -> bool:
        """Whether a second look ended it."""
        return any(review.verdict != Review.Verdict.STANDS for review in self.reviews)


def signed_by(person: Person, on: date) -> list[SignedLine]:
    """What a person signed, what still counts first: ten queries; may be empty."""
    register = register_on(person.shop, on)
    rows = SignOff.objects.filter(signed_by=person).select_related("person", "station")
    lines = []
    for row in rows.prefetch_related("reviews").order_by("-signed_on", "-pk"):
        signed = register.signed(row.person_id, row.station_id)
        counts = signed is not None and signed.row == row.pk and signed.is_current(on)
        lines.append(SignedLine(row, counts, list(row.reviews.all())))
    return sorted(lines, key=lambda line: not line.counts)
