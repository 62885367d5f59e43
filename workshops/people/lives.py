"""How long a sign-off counts: the club's rules, or those it decided for one station.

Three ends, and the first of them counts: so many months, a day of the year, so many months
without use. A decision for a station replaces the club's general rules there.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta

from django.db.models import Q

from inventory.places.models import Shop
from workshops.club.queries import Rules, spell_day_of_year
from workshops.people.days import last_day, spell_day
from workshops.people.models import Lifetime


@dataclass(frozen=True, slots=True)
class Life:
    """How long a sign-off counts, and who decided it."""

    months: int | None = None
    ends_on: str | None = None
    unused_months: int | None = None
    resign_days: int = 0
    decided_by: str = ""
    decided_on: date | None = None
    source: str = ""

    def longest(self, signed_on: date) -> date | None:
        """The last day of a sign-off of that day, used or not; None: no end by a date."""
        ends = [
            end
            for end in (
                last_day(signed_on, self.months) if self.months else None,
                self._day_of_year(signed_on),
            )
            if end
        ]
        return min(ends, default=None)

    def unused_until(self, signed_on: date, last_used_on: date | None) -> date | None:
        """The last day on which it counts if it is not used again; None where that is no rule."""
        if not self.unused_months:
            return None
        # Signing is seeing it done, so it counts as use.
        return last_day(max(signed_on, last_used_on or signed_on), self.unused_months)

    def spelled(self) -> str:
        """In words: ``12 months, to 31 Oct at the latest, or 6 months without use``."""
        said = [
            f"{self.months} months" if self.months else "",
            f"to {spell_day_of_year(self.ends_on)} at the latest" if self.ends_on else "",
            f"lapses after {self.unused_months} months without use" if self.unused_months else "",
        ]
        return ", ".join(each for each in said if each) or "without an end"

    def told(self) -> str:
        """Who decided it, when and from what; that it is usual where nobody did."""
        if not self.decided_on:
            return "the club's general rules"
        return f"decided by {self.decided_by} on {spell_day(self.decided_on)}, from {self.source}"

    def _day_of_year(self, signed_on: date) -> date | None:
        if not self.ends_on:
            return None
        month, day = (int(part) for part in self.ends_on.split("-"))
        ends = date(signed_on.year, month, day)
        # Signed anew shortly before the day is signed for the year to come.
        while ends < signed_on + timedelta(days=self.resign_days):
            ends = date(ends.year + 1, month, day)
        return ends


@dataclass(frozen=True, slots=True)
class Lives:
    """The life of a sign-off at each station of a shop."""

    usual: Life
    own: Mapping[int, Life] = field(default_factory=dict)

    def at(self, station: int) -> Life:
        """The station's own, or the club's."""
        return self.own.get(station, self.usual)

    def heeding_use(self) -> Q:
        """The rows at stations where a sign-off lapses without use."""
        own = [station for station, life in self.own.items() if life.unused_months]
        if self.usual.unused_months:
            return ~Q(station__in=set(self.own) - set(own))
        return Q(station__in=own)


def lives_of(shop: Shop, rules: Rules, on: date, *, known: datetime | None = None) -> Lives:
    """How long sign-offs count in the shop on a day: one query.

    A decision counts from the day it was taken; with ``known``, if it was recorded by then.
    """
    rows = Lifetime.objects.filter(shop=shop, decided_on__lte=on)
    if known is not None:
        rows = rows.filter(recorded_at__lte=known)
    usual = usual_life(rules, on)
    own: dict[int, Life] = {}
    for row in rows.order_by("decided_on", "pk"):
        # All empty: the club's general rules hold there again.
        own[row.station_id] = life_in(row, usual) or usual
    return Lives(usual, own)


def usual_life(rules: Rules, on: date) -> Life:
    """The life by the club's general rules on a day. No query."""
    unused = rules.decision("lapse_unused_months")
    # Decided in January, it did not yet stop anybody in December.
    counts = unused.decided_on is None or unused.decided_on <= on
    return Life(
        months=rules.sign_off_months,
        ends_on=rules.sign_off_ends,
        unused_months=rules.lapse_unused_months if counts else None,
        resign_days=rules.resign_days,
    )


def life_in(row: Lifetime, usual: Life) -> Life | None:
    """What a decision says; None when it brings the general rules back."""
    if not (row.months or row.ends_on or row.unused_months):
        return None
    return Life(
        months=row.months,
        ends_on=row.ends_on or None,
        unused_months=row.unused_months,
        resign_days=usual.resign_days,
        decided_by=row.decided_by,
        decided_on=row.decided_on,
        source=row.source,
    )
