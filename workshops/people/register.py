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

from django.db.models import Case, F, OuterRef, Q, Subquery, When
from django.db.models.fields import DateField

from inventory.places.models import Shop
from workshops.people.lives import Life, Lives
from workshops.people.models import Person, Review, SignOff, Use
from workshops.stations.models import Level

COLUMNS = (
    "person_id", "station_id", "pk", "level", "signed_on", "valid_until", "withdrawn", "used",
)  # fmt: skip
# Looked up for each of thousands of rows: calling the enumeration takes longer.
LEVELS = {level.value: level for level in Level}
MISTAKE, WITHDRAWN = Review.Verdict.MISTAKE, Review.Verdict.WITHDRAWN


class Ending(StrEnum):
    """What ends a sign-off on its last day."""

    ITS_DAY = "its day"
    UNUSED = "unused"
    WITHDRAWN = "withdrawn"


@dataclass(frozen=True, slots=True)
class Signed:
    """The sign-off that counts at a station on the day: the latest one signed by then.

    A later sign-off replaces an earlier one, also when it goes less far. ``valid_until`` is
    the last day on which it really counts, and ``ending`` what ends it then. ``level`` is
    lowered while a suspension lets the person work only beside a lead; ``given`` is as signed.
    """

    level: Level
    signed_on: date
    valid_until: date | None
    ending: Ending = Ending.ITS_DAY
    given: Level | None = None
    last_used_on: date | None = None
    row: int = 0

    def is_current(self, on: date) -> bool:
        """Whether it still counts on a day; its last day counts."""
        return self.valid_until is None or self.valid_until >= on


def latest_lines(
    shop: Shop, on: date, *, only: Q, lives: Lives, known: datetime | None = None
) -> dict[int, dict[int, Signed]]:
    """Person -> station -> sign-off, of all people or those ``only`` says: one query.

    One withdrawn ends the day before and brings no earlier one back; one that was a mistake
    never counted, so the earlier one counts as if nothing had been written.
    """
    rows = _rows(shop, on, only, known=known, heeding=lives.heeding_use())
    found: defaultdict[int, dict[int, Signed]] = defaultdict(dict)
    for person, station, pk, number, signed_on, until, withdrawn, used in rows:
        end, ending = _end(
            lives.at(station), signed_on, until, withdrawn_on=withdrawn, last_used_on=used
        )
        level = LEVELS[number]
        found[person][station] = Signed(level, signed_on, end, ending, level, used, pk)
    return found


def _rows(
    shop: Shop, on: date, only: Q, *, known: datetime | None, heeding: Q
) -> Iterable[tuple[Any, ...]]:
    # Beside the index of person and station, which SQLite would else leave for the shop's.
    rows: Any = SignOff.objects.alias(its_shop=F("shop_id") + 0).filter(
        person=OuterRef("pk"), station=OuterRef("at"), its_shop=shop.pk, signed_on__lte=on
    )
    reviews = Review.objects.order_by()
    if known is not None:
        rows = rows.filter(recorded_at__lte=known)
        reviews = reviews.filter(recorded_at__lte=known)
    ended = reviews.filter(sign_off=OuterRef("pk"), verdict=WITHDRAWN, on__lte=on)
    used = Use.objects.filter(person=OuterRef("person"), station=OuterRef("station"), day__lte=on)
    # A list made once, and not a question asked for every row of old.
    mistakes = reviews.filter(verdict=MISTAKE).values("sign_off")
    latest = rows.exclude(pk__in=mistakes).order_by("-signed_on", "-pk").values("pk")[:1]
    # Looked up for each person at each station: after ten winters most rows are of old, and to
    # read or to rank them all takes longer.
    pairs = Person.objects.filter(only, shop=shop).order_by().annotate(at=F("shop__station"))
    last = pairs.annotate(last=Subquery(latest)).values("last")
    first = SignOff.objects.filter(pk__in=last).annotate(
        withdrawn=Subquery(ended.values("on")[:1]),
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
    if not withdrawn_on and not life.unused_months:
        return until, Ending.ITS_DAY
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
