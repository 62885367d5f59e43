"""What the last weighing says of a lapse, as other pages tell it: in one sentence."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.utils import timezone

from inventory.places.models import Shop
from workshops.common.models import Job
from workshops.people.beside import Word
from workshops.people.days import spell_day
from workshops.people.models import Person, SignOff
from workshops.training.queries import last_weighing

LEAST = 1.0  # sets: less is within what nobody would notice


@dataclass(frozen=True, slots=True)
class TellsLoss:
    """What the winter loses if one sign-off is not signed again."""

    person: int
    name: str
    station: str
    ended: date
    sets: float
    has_ended: bool

    @property
    def says(self) -> str:
        """If Ada R.'s sign-off for Weld lapses on 12 Jan 2026: about 31 sets fewer."""
        when = "stays lapsed since" if self.has_ended else "lapses on"
        sets = f"about {self.sets:.0f} set{'s' * (round(self.sets) != 1)} fewer by the winter's end"
        day = spell_day(self.ended)
        return f"If {self.name}'s sign-off for {self.station} {when} {day}: {sets}."


def losses_told(shop: Shop, today: date, person: Person | None = None) -> list[TellsLoss]:
    """Losses of the last weighing that still stand, the dearest first: 3 queries at most.

    Empty where nothing was weighed. Whoever was signed anew since then has no loss.
    """
    job = last_weighing(shop)
    told: list[dict[str, Any]] = (job.result or {}).get("losses", []) if job else []
    found = [each for each in told if each["sets"] >= LEAST]
    if person is not None:
        found = [each for each in found if each["person"] == person.pk]
    if not job or not found:
        return []
    anew = _signed_since(job, {each["person"] for each in found})
    people = {person.pk: person} if person else _people(found)
    return [
        TellsLoss(
            each["person"], people[each["person"]].short_name, each["station_name"],
            (ended := date.fromisoformat(each["ended"])), each["sets"], ended < today,
        )
        for each in sorted(found, key=lambda each: -each["sets"])
        if (each["person"], each["station"]) not in anew and people[each["person"]].is_active
    ]  # fmt: skip


def _signed_since(job: Job, people: set[int]) -> set[tuple[int, int]]:
    rows = SignOff.objects.filter(person__in=people, recorded_at__gt=job.ended_at)
    return set(rows.values_list("person", "station"))


def _people(found: Iterable[dict[str, Any]]) -> dict[int, Person]:
    return Person.objects.in_bulk({each["person"] for each in found})


def words_of(person: Person) -> list[Word]:
    """The lines for the page of a person."""
    today = timezone.now().astimezone(person.shop.zone).date()
    return [
        Word(each.says, "training:lapses", "What lapses, and what it costs")
        for each in losses_told(person.shop, today, person)
    ]
