"""Everything the shop holds about one person, in sections whose keys are written down and stay.

``SECTIONS`` is the list of them, by the relation they are read through. A relation without a
line there is told all the same, with every column of its rows. What lies behind no relation
(links to an address, the trail of changes) is told by functions that slices register.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from decimal import Decimal
from typing import Any

from django.db import models
from django.db.models import Q
from django.utils import timezone

from workshops.access.trail import trail_about
from workshops.people.days import spell_day
from workshops.people.known_by import entries_of
from workshops.people.models import Look, Person, Review, SignOff
from workshops.people.moving import relations

EMPTY: tuple[Any, ...] = ("", None, [])
HEADINGS = {
    "email": "E-mail", "born_on": "Date of birth", "is_adult_declared": "Says they are of age",
    "no_dust": "No dust, straw or hay", "seated_only": "Works seated only",
    "no_heavy": "No heavy lifting", "emergency_contact": "In an emergency",
    "is_active": "On the club's list", "has_email": "By e-mail", "in_at": "In", "out_at": "Out",
}  # fmt: skip
FORMAT, VERSION = "winterbench person", 1
Row = dict[str, Any]


@dataclass(frozen=True)
class Section:
    """Rows of one kind: ``key`` in the file, ``title`` on the page."""

    key: str
    title: str
    rows: list[Row]

    @property
    def keys(self) -> list[str]:
        """The keys of which anything is told; one row shows all, to say what is not kept."""
        if len(self.rows) < 2:
            return list(self.rows[0]) if self.rows else []
        return [key for key in self.rows[0] if any(row[key] not in EMPTY for row in self.rows)]

    @property
    def headings(self) -> list[str]:
        """The keys in words, for a page."""
        return [HEADINGS.get(key, key.replace("_", " ").capitalize()) for key in self.keys]

    @property
    def lines(self) -> list[list[str]]:
        """The rows in words, for a page."""
        return [[_in_words(row[key]) for key in self.keys] for row in self.rows]


@dataclass(frozen=True)
class Told:
    """How the rows of one relation are told; ``fields`` are their keys in the file."""

    key: str
    title: str
    fields: tuple[str, ...]


PERSON = (
    "first_name", "last_name", "email", "phone", "born_on", "is_adult_declared", "no_dust",
    "seated_only", "no_heavy", "emergency_contact", "note", "joined_on", "is_active", "changed_at",
)  # fmt: skip
ACCOUNT = ("username", "first_name", "last_name", "email", "date_joined", "last_login")
REVIEW = ("sign_off", "verdict", "on", "reason", "reviewed_by", "recorded_at")
SECTIONS: dict[str, Told] = {
    "people.SignOff.person": Told("sign_offs", "Sign-offs", (
        "station", "level", "signed_by", "signed_on", "valid_until", "evidence", "points",
        "recorded_at")),
    "people.SignOff.signed_by": Told("signed_for_others", "Signed for others", (
        "person", "station", "level", "signed_on", "recorded_at")),
    "people.Review.reviewer": Told("second_looks_taken", "Second looks taken at others", (
        "sign_off", "verdict", "on", "recorded_at")),
    "people.Bar.person": Told("bars", "Bars", (
        "station", "reason", "set_at", "set_by", "until", "only_with_a_lead", "lifted_at",
        "lifted_by")),
    "people.Waiver.person": Told("waivers", "Waivers", ("version", "signed_on", "valid_until")),
    "people.Guardianship.minor": Told("guardians", "Guardians", (
        "guardian", "consent_on", "may_collect")),
    "people.Guardianship.guardian": Told("answers_for", "Answers for", (
        "minor", "consent_on", "may_collect")),
    "people.Use.person": Told("uses", "Time at the stations", (
        "day", "station", "minutes", "with_a_lead")),
    "people.Look.person": Told("looks", "Who looked at what is private", (
        "at", "seen_by", "what", "page")),
    "nights.SignUp.person": Told("sign_ups", "Answers for nights", (
        "night", "answer", "arrives", "leaves", "guests", "guest_names", "note", "answered_at")),
    "nights.RollLine.person": Told("roll", "In the building", ("night", "in_at", "out_at")),
    "nights.Placing.person": Told("placings", "Places", (
        "night", "block", "station", "role", "why")),
    "nights.TrainingDate.learner": Told("learns", "Learns", (
        "night", "station", "lead", "why_not")),
    "nights.TrainingDate.lead": Told("teaches", "Teaches", (
        "night", "station", "learner", "why_not")),
    "nights.HotWorkPermit.watcher": Told("watches", "Fire watches", (
        "night", "watch_minutes", "opened_at", "last_spark_at", "watch_ended_at")),
    "nights.WatchTurn.person": Told("watch_turns", "Turns of the fire watch", (
        "permit", "from_at", "until_at", "why_ended")),
    "nights.Group.members": Told("groups", "Came with", ("name", "night")),
    "nights.Group.leaders": Told("led_groups", "Groups led", ("name", "night")),
    "mine.Feed.person": Told("calendar", "Calendar", ("has_all_nights", "made_at")),
    "training.LapseWarning.sent_to": Told("warnings", "Warnings sent", (
        "sign_off", "stage", "ends_on", "has_email", "sent_at")),
}  # fmt: skip
# Not of the person: what another entry is called, and that an entry is no more.
NOT_TOLD = frozenset({"people.Person.merged_into", "people.Erasure.person"})
# How moments and days stand in the file; a page tells them as the shop does.
MOMENT, DAY = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d.*"), re.compile(r"\d{4}-\d\d-\d\d")
# Keys of rows, and secrets that open what they belong to.
NO_COLUMN = frozenset({"id", "shop", "client_key", "secret"})

Tell = Callable[[Sequence[Person]], Section]
TELLS: list[Tell] = []


def also_tell(tell: Tell) -> Tell:
    """Register a section that no relation to a person leads to."""
    TELLS.append(tell)
    return tell


def everything_of(person: Person) -> list[Section]:
    """Every section, those without rows too: a query each, and one a joined entry.

    Other people appear by first name and initial, but for those who signed, stopped or looked.
    """
    people = entries_of(person)
    found = [Section("person", "Details", [_row(each, (*PERSON, "likes")) for each in people])]
    users = [each.user for each in people if each.user]
    found.append(Section("account", "Account", [_row(user, ACCOUNT) for user in users]))
    by_key = {section.key: section for section in _related(people)}
    found += by_key.values()
    reviews = Review.objects.filter(sign_off__person__in=people).select_related("sign_off")
    found.append(Section("second_looks", "Second looks at sign-offs", _rows(reviews, REVIEW)))
    looked = Look.objects.filter(user__in=users).select_related("person")
    found.append(Section("looked_at", "Whose private facts they looked at",
                         _rows(looked, ("at", "person", "what", "page"))))  # fmt: skip
    changes = trail_about(Person, [each.pk for each in people])
    found.append(Section("changes", "What was changed in the entry", changes))
    return found + [tell(people) for tell in TELLS]


def as_file(person: Person, at: datetime) -> Row:
    """The same as plain values for ``json.dump``: one key a section, beside what the file is."""
    about = {
        "format": FORMAT, "version": VERSION, "shop": person.shop.slug, "number": person.pk,
        "written_at": at.isoformat(),
    }  # fmt: skip
    return {"about": about} | {section.key: section.rows for section in everything_of(person)}


def _related(people: Sequence[Person]) -> Iterator[Section]:
    for name, relation in relations():
        if name in NOT_TOLD:
            continue
        model, field = relation.related_model, relation.field
        told = SECTIONS.get(name) or _all_of(model, field)
        rows = model._base_manager.filter(Q(**{f"{field.name}__in": people})).distinct()
        joined = [each for each in told.fields if _is_key(model, each)]
        yield Section(told.key, told.title, _rows(rows.select_related(*joined), told.fields))


def titled(name: str, model: Any) -> str:
    """What the rows of a relation are called on a page."""
    told = SECTIONS.get(name)
    return told.title if told else str(model._meta.verbose_name_plural).capitalize()


def _all_of(model: Any, through: Any) -> Told:
    """Every column of a table that has no line of its own."""
    names = tuple(field.name for field in model._meta.concrete_fields
                  if field.name not in NO_COLUMN and field.name != through.name)  # fmt: skip
    key = f"{model._meta.app_label}_{model._meta.model_name}_{through.name}"
    return Told(key, titled("", model), names)


def _is_key(model: Any, name: str) -> bool:
    return isinstance(model._meta.get_field(name), models.ForeignKey)


def _rows(rows: Any, fields: tuple[str, ...]) -> list[Row]:
    return [_row(row, fields) for row in rows]


def _row(row: Any, fields: tuple[str, ...]) -> Row:
    return {name: _value(row, name) for name in fields}


def _value(row: Any, name: str) -> Any:
    """One value as JSON has it; what is chosen from a list in words."""
    spelled = getattr(row, f"get_{name}_display", None)
    value = spelled() if spelled else getattr(row, name)
    if isinstance(value, Person):
        return value.short_name
    if isinstance(value, SignOff):
        return f"{value.person.short_name}: {value.station}, {value.get_level_display()}"
    if isinstance(value, datetime | date | time):
        return value.isoformat()
    if isinstance(value, models.Manager):
        return [str(each) for each in value.all()]
    is_plain = value is None or isinstance(value, str | int | bool | list | dict)
    return value if is_plain and not isinstance(value, Decimal) else str(value)


def _in_words(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return ", ".join(_in_words(each) for each in value)
    if isinstance(value, dict):
        return ": ".join(_in_words(each) for each in value.values())
    if isinstance(value, str) and MOMENT.fullmatch(value):
        moment = timezone.localtime(datetime.fromisoformat(value))
        return f"{spell_day(moment.date())}, {moment:%H:%M}"
    if isinstance(value, str) and DAY.fullmatch(value):
        return spell_day(date.fromisoformat(value))
    return "" if value is None else str(value)
