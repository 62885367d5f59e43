"""What the pages of people and sign-offs read."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.db.models import QuerySet

from inventory.places.models import Shop
from workshops.people.cover import (
    Cover,
    Lapse,
    lapsing_soon,
    who_could_cover,
)
from workshops.people.facts import PersonFacts, StationFacts
from workshops.people.gate import Answer, Doing, Register, register_on
from workshops.people.matrix import Matrix, Show, is_called, matrix_of
from workshops.people.models import Bar, Guardianship, Person, SignOff, Waiver
from workshops.people.names import short_names, told_apart
from workshops.people.practice import Practice, Readiness, practice_of, readiness
from workshops.people.standing import Mark, Standing, standing
from workshops.stations.models import Station

__all__ = [
    "Cover", "Lapse", "Matrix", "PersonLine", "PersonPage", "Show", "authorisers_of", "coming_next",
    "lapsing_soon", "matrix_of", "namesakes", "people_of", "person_page", "short_names",
    "told_apart", "who_could_cover",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class PersonLine:
    """One person of the list; the counts are of stations."""

    facts: PersonFacts
    name: str
    current: int
    lapsing: int
    lapsed: int


@dataclass(frozen=True, slots=True)
class StationLine:
    """How a person stands at one station, and what the gate says of working there."""

    station: StationFacts
    standing: Standing
    answer: Answer
    ready: Readiness | None = None
    done: Practice | None = None

    @property
    def is_known(self) -> bool:
        """Whether there is something to tell: a sign-off, a bar, or work that is open to them."""
        return self.answer.ok or self.standing.mark is not Mark.NONE


@dataclass(frozen=True, slots=True)
class PersonPage:
    """Everything the page of a person shows."""

    person: Person
    name: str
    facts: PersonFacts
    lines: list[StationLine]
    history: list[SignOff]
    bars: list[Bar]
    waivers: list[Waiver]
    guardians: list[Guardianship]
    wards: list[Guardianship]
    stays: list[tuple[date, int]]
    minutes: int


def people_of(
    shop: Shop, on: date, *, words: str = "", show: Show = Show.ALL, coming: Iterable[int] = ()
) -> list[PersonLine]:
    """The people whose name has the words, by last name: eight queries; may be empty."""
    register = register_on(shop, on)
    names, chosen = told_apart(register.people.values()), set(coming)
    lines = [
        _line(register, facts, names[pk])
        for pk, facts in register.people.items()
        if is_called(names[pk], words)
    ]
    return [line for line in lines if _is_shown(line, show, chosen)]


def person_page(person: Person, on: date) -> PersonPage:
    """A person with sign-offs, bars, waivers, guardians and hours: sixteen queries."""
    register = register_on(person.shop, on)
    facts = register.people[person.pk]
    stays, practice = list(_stays(person)), practice_of(person.shop, on)
    return PersonPage(
        person=person,
        name=told_apart(register.people.values())[person.pk],
        facts=facts,
        lines=[
            StationLine(
                station,
                standing(register, facts, pk),
                register.answer(person.pk, pk),
                ready=readiness(register, facts, pk, practice),
                done=practice.get((person.pk, pk)),
            )
            for pk, station in register.stations.items()
            if station.is_in_use
        ],
        history=list(
            person.sign_offs.select_related("station", "signed_by").prefetch_related("reviews")
        ),
        bars=list(person.bars.select_related("station")),
        waivers=list(person.waivers.all()),
        guardians=list(person.guardianships.select_related("guardian")),
        wards=list(person.wards.select_related("minor")),
        stays=stays,
        minutes=sum(minutes for _, minutes in stays),
    )


def authorisers_of(shop: Shop, on: date, station: Station | None = None) -> list[Person]:
    """Those who may sign others, at a station or at any: nine queries; may be empty."""
    register = register_on(shop, on)
    places = [station.pk] if station else list(register.stations)
    signers = {pk for place in places for pk in register.who_may(place, Doing.SIGNS)}
    return list(Person.objects.filter(shop=shop, pk__in=signers))


def namesakes(shop: Shop, first_name: str, last_name: str) -> QuerySet[Person]:
    """People on the list with that very name, whatever its capitals (one query)."""
    return Person.objects.filter(
        shop=shop, first_name__iexact=first_name.strip(), last_name__iexact=last_name.strip()
    )


def coming_next(shop: Shop, day: date) -> list[int]:
    """Ids of those who come, or perhaps come, on the first night from a day on (one query).

    Empty when nobody has said so of any night. The sign-ups lie in a slice above; they are
    read here through the person's own rows.
    """
    rows = Person.objects.filter(
        shop=shop, sign_ups__night__date__gte=day, sign_ups__answer__in=["yes", "maybe"]
    )
    pairs = list(rows.values_list("sign_ups__night__date", "pk"))
    # Found here and not by the database: one query instead of two, over a handful of rows.
    first = min((night for night, _ in pairs), default=None)
    return [pk for night, pk in pairs if night == first]


def _line(register: Register, facts: PersonFacts, name: str) -> PersonLine:
    marks = [standing(register, facts, station).mark for station in facts.signed]
    return PersonLine(
        facts, name,
        current=marks.count(Mark.CURRENT) + marks.count(Mark.LAPSING),
        lapsing=marks.count(Mark.LAPSING),
        lapsed=marks.count(Mark.LAPSED),
    )  # fmt: skip


def _is_shown(line: PersonLine, show: Show, coming: set[int]) -> bool:
    if show is Show.GONE or not line.facts.is_active:
        return show is Show.GONE and not line.facts.is_active
    return {
        Show.ALL: True,
        Show.COMING: line.facts.pk in coming,
        Show.LAPSED: line.lapsed > 0,
        Show.LAPSING: line.lapsing > 0,
        Show.BARRED: bool(line.facts.bars),
        Show.NO_WAIVER: not line.facts.has_waiver,
        Show.MINORS: not line.facts.is_adult,
    }[show]


def _stays(person: Person) -> Iterable[tuple[date, int]]:
    """Nights with minutes in the building, the latest first; a stay still open counts none."""
    rows = Person.objects.filter(pk=person.pk, roll__out_at__isnull=False)
    times = rows.order_by("-roll__in_at").values_list(
        "roll__night__date", "roll__in_at", "roll__out_at"
    )
    for night, in_at, out_at in times:
        if out_at:
            yield night, round((out_at - in_at).total_seconds() / 60)
