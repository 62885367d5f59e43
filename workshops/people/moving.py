"""What becomes of every row that points to a person when that entry is joined with another.

The rows of slices above are reached through the person's own relations, as ``HOW`` says of
each. A relation without a word there fails a test, and the merge refuses.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from enum import StrEnum
from typing import Any

from django.db import IntegrityError, models, transaction

from workshops.people.models import Person
from workshops.people.refusals import MergeRefused


class How(StrEnum):
    """What is done with the rows of one relation."""

    MOVES = "moves"  # points to the entry kept; where the database has no room, it stays
    COPIED = "copied"  # sealed: a new row for the entry kept, the old one as it was
    STAYS = "stays"  # says who signed, or who was looked at, by the entry of then
    JOINS = "joins"  # a list of people: the one kept takes the place of the other


HOW: dict[str, How] = {
    "people.SignOff.person": How.COPIED, "people.Bar.person": How.COPIED,
    "people.SignOff.signed_by": How.STAYS, "people.Review.reviewer": How.STAYS,
    "people.Look.person": How.STAYS, "people.Erasure.person": How.STAYS,
    "people.Person.merged_into": How.MOVES, "people.Use.person": How.MOVES,
    "people.Guardianship.minor": How.MOVES, "people.Guardianship.guardian": How.MOVES,
    "people.Waiver.person": How.MOVES,
    "nights.SignUp.person": How.MOVES, "nights.RollLine.person": How.MOVES,
    "nights.RollLine.collected_by": How.MOVES, "nights.AlarmHand.person": How.MOVES,
    "nights.Placing.person": How.MOVES, "nights.HotWorkPermit.watcher": How.MOVES,
    "nights.WatchTurn.person": How.MOVES,
    "nights.TrainingDate.learner": How.MOVES, "nights.TrainingDate.lead": How.MOVES,
    "nights.Group.leaders": How.JOINS, "nights.Group.members": How.JOINS,
    "trouble.Trouble.people": How.JOINS, "trouble.StoodThere.person": How.MOVES,
    "trouble.DayAfter.person": How.MOVES,
    "mine.Feed.person": How.MOVES, "training.LapseWarning.sent_to": How.MOVES,
    "tonight.Ask.person": How.MOVES, "tonight.Tap.person": How.MOVES,
    "tonight.Told.person": How.MOVES,
}  # fmt: skip


def relations() -> Iterator[tuple[str, Any]]:
    """Every relation of another table to a person, with its name."""
    fields: Iterator[Any] = iter(Person._meta.get_fields(include_hidden=True))
    for relation in fields:
        is_theirs = relation.auto_created and not relation.concrete and relation.is_relation
        # The table of a list of people is reached through the list itself.
        if is_theirs and not relation.related_model._meta.auto_created:
            yield f"{relation.related_model._meta.label}.{relation.field.name}", relation


def move_all(gone: Person, kept: Person, today: date) -> tuple[dict[str, int], dict[str, int]]:
    """How many rows of each kind moved, and how many stayed for want of room.

    Raises
    ------
    MergeRefused
        When a relation is not known here, or both stand in one night to come.
    """
    moved: dict[str, int] = {}
    stayed: dict[str, int] = {}
    for name, relation in relations():
        if name not in HOW:
            raise MergeRefused(f"Nobody has said what becomes of {name}: nothing was joined.")
        words = str(relation.related_model._meta.verbose_name)
        if HOW[name] is How.JOINS:
            _join(relation, gone, kept)
        if HOW[name] is not How.MOVES:
            continue
        for row in relation.related_model._base_manager.filter(**{relation.field.name: gone}):
            count = moved if _move(row, relation.field, kept, today=today) else stayed
            count[words] = count.get(words, 0) + 1
    return moved, stayed


def _join(relation: Any, gone: Person, kept: Person) -> None:
    for row in relation.related_model._base_manager.filter(**{relation.field.name: gone}):
        people = getattr(row, relation.field.name)
        people.add(kept)
        people.remove(gone)


def _move(row: models.Model, field: Any, kept: Person, *, today: date) -> bool:
    """Whether the row points to the one kept now, or is part of the row that was there."""
    try:
        with transaction.atomic():
            type(row)._base_manager.filter(pk=row.pk).update(**{field.name: kept})
    except IntegrityError as no_room:
        if _combined(row, field, kept):
            return True
        night = getattr(row, "night", None)
        if night is not None and night.date >= today:
            what = row._meta.verbose_name
            raise MergeRefused(
                f"Both have a {what} on {night.date}: take one of them out of that night first."
            ) from no_room
        return False
    return True


def _combined(row: Any, field: Any, kept: Person) -> bool:
    """Whether the two rows that say the same thing of one person became one."""
    label = row._meta.label
    if label not in ("people.Use", "people.Guardianship", "nights.SignUp"):
        return False
    unique = {"people.Use": ("station", "day", "with_a_lead"), "nights.SignUp": ("night",)}
    others = unique.get(label, ("minor", "guardian"))
    same = {name: getattr(row, name) for name in others} | {field.name: kept}
    there = type(row)._base_manager.get(**same)
    {"people.Use": _use, "people.Guardianship": _guardian}.get(label, _answer)(there, row)
    there.save()
    row.delete()
    return True


def _use(there: Any, row: Any) -> None:
    there.minutes += row.minutes


def _guardian(there: Any, row: Any) -> None:
    there.consent_on = there.consent_on or row.consent_on
    # The stricter stays: whoever was told not to collect a child is asked about it anew.
    there.may_collect = there.may_collect and row.may_collect


def _answer(there: Any, row: Any) -> None:
    """The later answer counts; guests and notes of both are kept."""
    if row.answered_at > there.answered_at:
        for name in ("answer", "arrives", "leaves", "answered_at"):
            setattr(there, name, getattr(row, name))
    there.guests = max(there.guests, row.guests)
    for name in ("guest_names", "note"):
        both = dict.fromkeys(filter(None, (getattr(there, name), getattr(row, name))))
        setattr(there, name, "; ".join(both)[:200])
