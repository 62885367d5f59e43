"""A brought list looked at, and written: all of it or nothing."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from django.db import transaction

from inventory.places.models import Shop
from workshops.access.models import User
from workshops.common.columns import Reading, read_rows
from workshops.common.fates import Fate, RowFate
from workshops.common.models import Upload
from workshops.common.sheets import SheetRefused, read_sheet
from workshops.common.uploads import choose, throw_away, upload_of
from workshops.people.exchange.columns import columns
from workshops.people.exchange.known import Known, stations_of
from workshops.people.exchange.plan import SOMEBODY_ELSE, WORDS, PeoplePlan, plan
from workshops.people.refusals import PeopleRefused
from workshops.people.stops import hold_register

KIND = "people"
ROWS_MOST = 2_000


class ListGone(ValueError):
    """A list that was written or thrown away already."""


@dataclass(frozen=True)
class Preview:
    """The fates of a file's rows, and the headings that nobody asked for."""

    upload: Upload
    plan: PeoplePlan
    unknown: tuple[str, ...]
    known: Known

    @property
    def told(self) -> list[tuple[Fate, str, int]]:
        """Each fate that a row comes to, with its word and how many do."""
        return [(fate, WORDS[fate], n) for fate, n in self.plan.counts.items() if n]

    def rows(self, fate: str = "") -> list[RowFate]:
        """The rows of one fate; all of them without one."""
        return [row for row in self.plan.fates if not fate or row.fate.value == fate]


def read_people(shop: Shop, data: bytes) -> Reading:
    """The rows of a file of people. 1 query.

    Raises
    ------
    SheetRefused
        When it is no list of people.
    """
    reading = read_rows(read_sheet(data), columns(shop, stations_of(shop)))
    if len(reading.rows) > ROWS_MOST:
        raise SheetRefused(f"The list has more than {ROWS_MOST:,} people. Part it into files.")
    return reading


def preview_of(upload: Upload, at: datetime | None = None) -> Preview:
    """What the file would do to the list as it is now. At most 10 queries for any file."""
    known = Known(upload.shop, at)
    reading = read_people(upload.shop, bytes(upload.data))
    answers = upload.choices.get("rows", {})
    made = plan(known, reading, file=upload.name, answers=answers)
    return Preview(upload, made, reading.unknown, known)


def answer_rows(upload: Upload, answers: dict[str, str]) -> None:
    """Keep who is meant by rows, by their numbers; what is no answer is left out."""
    good = {row: told for row, told in answers.items() if told == SOMEBODY_ELSE or told.isdecimal()}
    choose(upload, rows=upload.choices.get("rows", {}) | good)


def commit(upload: Upload, *, seen: str, by: User, at: datetime) -> tuple[Preview, bool]:
    """Write every row, if each still comes to the fate that was ``seen``; and whether it was.

    The fates are worked out again with the register held, so that nothing comes between the
    looking and the writing. One row refused by its action takes all of them back.

    Raises
    ------
    ListGone
        When it was written or thrown away meanwhile.
    PeopleRefused
        Naming the person, when an action refuses a row after all.
    """
    with transaction.atomic():
        hold_register(upload.shop)
        kept = upload_of(upload.shop, by, upload.pk)
        if kept is None:
            raise ListGone("This list was written or thrown away already.")
        preview = preview_of(kept, at)
        if preview.plan.print != seen or not preview.plan.can_be_written:
            return preview, False
        preview.plan.write(preview.known, by, at)
        throw_away(kept)
        return preview, True


__all__ = ["KIND", "ListGone", "PeopleRefused", "Preview", "commit", "preview_of", "read_people"]
