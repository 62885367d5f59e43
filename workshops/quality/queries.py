"""What is due to be checked tonight, what was found, and what is held back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db.models import Exists, OuterRef, Q, QuerySet, Subquery

from inventory.materials.models import Item
from inventory.measures.shares import wilson
from workshops.club.queries import Rules
from workshops.nights.models import Night, Placing, Tally
from workshops.quality.batches import BREAKS, LOOKS, counted, line_of, standing
from workshops.quality.models import Check, Held, Sorted
from workshops.quality.sorting import Standing, standing_of
from workshops.stations.models import Operation, Station

ARCS = (Station.Kind.WELD, Station.Kind.SPOT_WELD)
SAMPLE_DAYS = 120  # about a winter: what the share of bad pieces is told of


@dataclass(frozen=True, slots=True)
class Due:
    """One line of checks of one operation tonight: how far it is, and whether it is due now."""

    operation: Operation
    kind: str
    since: int
    every: int | None
    last: Check | None
    is_due: bool

    @property
    def label(self) -> str:
        """What is to be done: first piece, every nth piece, break test."""
        return str(Check.Kind(self.kind).label)

    @property
    def is_begun(self) -> bool:
        """Whether anything was counted or checked of it, so that it asks for room on the page."""
        return bool(self.since) or (self.last is not None and self.kind != Check.Kind.FIRST)

    @property
    def told(self) -> str:
        """``27 since the last check, due now``."""
        if self.kind == Check.Kind.FIRST:
            return f"{self.since} counted and none checked yet" if self.since else "not checked yet"
        what = "break test" if self.kind == Check.Kind.BREAK else "check"
        done = f"{self.since} since the last {what}" if self.last else f"{self.since} without one"
        if self.every is None:
            return done
        return f"{done}, " + ("due now" if self.is_due else f"the next after {self.every}")


def due_tonight(night: Night, rules: Rules) -> list[Due]:
    """Every line of checks at the stations open or counted tonight, those due first. 4 queries.

    Empty when no station with anything to make is open and nothing was counted.
    """
    operations = list(_of_tonight(night))
    last = Check.objects.select_related("night").in_bulk(
        {pk for row in operations for pk in (row.last_look, row.last_break) if pk}  # type: ignore[attr-defined]
    )
    since = _counted_since(night, operations, last)
    found = [each for row in operations for each in _lines(row, night, rules, last, since)]
    return sorted(found, key=lambda each: not each.is_due)


def _of_tonight(night: Night) -> QuerySet[Operation]:
    placed = Placing.objects.filter(night=night, station=OuterRef("station"))
    made = Tally.objects.standing().filter(night=night, operation=OuterRef("pk"))
    rows = Operation.objects.filter(shop=night.shop, is_in_use=True, recipe__is_in_use=True)
    rows = rows.annotate(
        last_look=_latest(LOOKS), last_break=_latest(BREAKS),
        is_open=Exists(placed), is_made=Exists(made),
    )  # fmt: skip
    return rows.filter(Q(is_open=True) | Q(is_made=True)).select_related("station", "part")


def _latest(kinds: Sequence[str]) -> Subquery:
    rows = Check.objects.filter(
        operation=OuterRef("pk"), kind__in=kinds, corrected_by=None
    ).order_by("-at", "-pk")
    return Subquery(rows.values("pk")[:1])


Since = Mapping[int, list[tuple[datetime, int, int]]]


def _counted_since(
    night: Night, operations: Sequence[Operation], last: Mapping[int, Check]
) -> Since:
    """Good counts by operation: when, of which night, how many."""
    oldest = min((row.at for row in last.values()), default=None)
    rows = Tally.objects.standing().filter(operation__in=operations)
    rows = rows.filter(Q(night=night) | Q(counted_at__gt=oldest)) if oldest else rows.filter(
        night=night
    )  # fmt: skip
    found: dict[int, list[tuple[datetime, int, int]]] = {}
    for pk, at, of, good in rows.values_list("operation", "counted_at", "night", "good"):
        found.setdefault(pk, []).append((at, of, good))
    return found


def _lines(
    row: Operation, night: Night, rules: Rules, last: Mapping[int, Check], since: Since
) -> list[Due]:
    """The first or the next piece, and at a weld the next break."""

    def count(check: Check | None) -> int:
        rows = since.get(row.pk, ())
        return sum(good for at, of, good in rows if (at > check.at if check else of == night.pk))

    look = last.get(row.last_look)  # type: ignore[attr-defined]
    # After a failed check somebody sets the jig anew: the next piece is a first piece again.
    if look is None or look.night_id != night.pk or not look.is_good:
        kind, every, is_due = Check.Kind.FIRST, None, True
    else:
        kind, every = Check.Kind.NTH, row.check_every or rules.check_every
        is_due = every is not None and count(look) >= every
    found = [Due(row, kind, count(look), every, look, is_due)]
    if row.station.kind in ARCS:
        broken, every = last.get(row.last_break), rules.break_test_every  # type: ignore[attr-defined]
        is_due = every is not None and count(broken) >= every
        found.append(Due(row, Check.Kind.BREAK, count(broken), every, broken, is_due))
    return found


def checks_of(night: Night) -> QuerySet[Check]:
    """What was found on a night, the latest first, with what it held back. 2 queries."""
    rows = Check.objects.filter(night=night).select_related("operation", "corrected_by")
    return rows.prefetch_related("held").order_by("-at", "-pk")


def last_of_line(operation: Operation, kind: str) -> Check | None:
    """The last check that counts of the line a kind belongs to. 1 query."""
    return standing(operation, line_of(kind)).first()


@dataclass(frozen=True, slots=True)
class Batch:
    """One held batch as a page shows it."""

    row: Held
    now: Standing


def held_of(night: Night) -> list[Batch]:
    """Batches of the shop that are not sorted to the end, and tonight's, the latest first.

    One query and one a batch; empty where nothing was ever held.
    """
    rows = Held.objects.filter(shop=night.shop, held__gt=0).select_related("item", "failed__night")
    batches = [Batch(row, standing_of(row)) for row in rows[:60]]
    return [each for each in batches if not each.now.is_done or each.row.failed.night == night]


@dataclass(frozen=True, slots=True)
class Further:
    """Things that have suspected pieces in them; ``held`` once they were held back too."""

    item: Item
    where: str
    pieces: int
    count: int
    held: Held | None


def further_of(held: Held) -> list[Further]:
    """What the pieces that were gone already went into. 2 queries; one when none was gone."""
    rows = {row.item_id: row for row in held.further.all()}
    into = [row for row in held.gone if row["item"]]
    items = Item.objects.in_bulk([row["item"] for row in into]) if into else {}
    return [
        Further(items[row["item"]], row["where"], row["pieces"], row["count"],
                rows.get(row["item"]))
        for row in into
    ]  # fmt: skip


def sorts_of(held: Held) -> QuerySet[Sorted]:
    """How it was sorted so far, first sorted first. 1 query."""
    return held.sorts.select_related("after")


@dataclass(frozen=True, slots=True)
class Share:
    """What the pieces looked at say of all the others, in hundredths, at 95 in a hundred."""

    looked_at: int
    bad: int
    low: int
    high: int


def share_of(operation: Operation, kind: str, now: datetime) -> Share | None:
    """How many may be bad, from the checks of this winter; ``None`` before the first. 1 query.

    Wilson's interval: it holds for pieces that were picked without looking first.
    """
    since = now - timedelta(days=SAMPLE_DAYS)
    looked_at, bad = counted(standing(operation, line_of(kind)).filter(at__gte=since))
    if not looked_at:
        return None
    low, high = wilson(bad, looked_at)
    return Share(looked_at, bad, round(100 * low), round(100 * high))
