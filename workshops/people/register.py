"""The lines of the register: for each person and station the sign-off that counts on a day.

Rows are never edited, so any past day can be asked, and asked again as it was known at a
moment: what was entered later, or found to be a mistake later, is then left out.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import StrEnum
from typing import Any

from django.db.models import Case, Exists, OuterRef, Q, Subquery, When, Window
from django.db.models.fields import DateField
from django.db.models.functions import RowNumber

from inventory.places.models import Shop
from workshops.people.lives import Life, Lives
from workshops.people.models import Review, SignOff, Use
from workshops.stations.models import Level

COLUMNS = (
    "person_id", "station_id", "pk", "level", "signed_on", "valid_until", "withdrawn", "used",
)  # fmt: skip
MISTAKE, WITHDRAWN = Review.Verdict.MISTAKE, Review.Verdict.WITHDRAWN


class Ending(StrEnum):
    """What ends a sign-off on its last day."""

    ITS_DAY = "its day"
    UNUSED = "unused"
    WITHDRAWN = "withdrawn"


@dataclass(frozen=True, slots=True)
class Line:
    """The sign-off of one person at one station that was signed last, by the day asked."""

    row: int
    level: Level
    signed_on: date
    valid_until: date | None
    ending: Ending
    last_used_on: date | None


def latest_lines(
    shop: Shop, on: date, *, only: Q, lives: Lives, known: datetime | None = None
) -> dict[int, dict[int, Line]]:
    """Person -> station -> line, of everybody or of whom ``only`` says: one query.

    One withdrawn ends the day before and brings no earlier one back; one that was a mistake
    never counted, so the earlier one counts as if nothing had been written.
    """
    rows = _rows(shop, on, only, known=known, heeding=lives.heeding_use())
    found: defaultdict[int, dict[int, Line]] = defaultdict(dict)
    for person, station, pk, level, signed_on, until, withdrawn, used in rows:
        end, ending = _end(
            lives.at(station), signed_on, until, withdrawn_on=withdrawn, last_used_on=used
        )
        found[person][station] = Line(pk, Level(level), signed_on, end, ending, used)
    return found


def _rows(
    shop: Shop, on: date, only: Q, *, known: datetime | None, heeding: Q
) -> Iterable[tuple[Any, ...]]:
    rows: Any = SignOff.objects.filter(only, shop=shop, signed_on__lte=on)
    reviews = Review.objects.filter(sign_off=OuterRef("pk")).order_by()
    if known is not None:
        rows = rows.filter(recorded_at__lte=known)
        reviews = reviews.filter(recorded_at__lte=known)
    withdrawn = reviews.filter(verdict=WITHDRAWN, on__lte=on).values("on")[:1]
    used = Use.objects.filter(person=OuterRef("person"), station=OuterRef("station"), day__lte=on)
    # Ranked by the database: after ten winters most rows are of old, and not worth reading.
    latest = Window(RowNumber(), partition_by=["person", "station"], order_by=["-signed_on", "-pk"])
    ranked = rows.exclude(Exists(reviews.filter(verdict=MISTAKE))).order_by().annotate(place=latest)
    # In a question around that one: else both are looked up for every row of old as well.
    first = SignOff.objects.filter(pk__in=ranked.filter(place=1).values("pk")).annotate(
        withdrawn=Subquery(withdrawn),
        used=Case(
            # Asked only where something lapses without use: it is the dearest part.
            When(heeding, then=Subquery(used.order_by("-day").values("day")[:1])),
            default=None,
            output_field=DateField(),
        ),
    )
    found: Iterable[tuple[Any, ...]] = first.order_by().values_list(*COLUMNS)
    return found


def _end(
    life: Life,
    signed_on: date,
    until: date | None,
    *,
    withdrawn_on: date | None,
    last_used_on: date | None,
) -> tuple[date | None, Ending]:
    """The last day on which it counts, and what ends it then: the first of three ends."""
    ends = [
        (day, ending)
        for day, ending in (
            (until, Ending.ITS_DAY),
            (life.unused_until(signed_on, last_used_on), Ending.UNUSED),
            (withdrawn_on - timedelta(days=1) if withdrawn_on else None, Ending.WITHDRAWN),
        )
        if day
    ]
    return min(ends, key=lambda end: end[0], default=(None, Ending.ITS_DAY))
