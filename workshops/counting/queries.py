"""What the pages of the tally need, ready for the template."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from django.db.models import Count, Max, Q, QuerySet, Sum

from inventory.places.models import Shop
from workshops.counting.models import Mending, PaperLine, PaperSheet, Press, Tablet
from workshops.nights.models import Night, Tally
from workshops.nights.queries import tallies_of
from workshops.stations.models import Operation

STANDING = Q(tally__isnull=False, tally__undone_by=None)
KINDS = ("good", "hold", "scrap")


def totals_of(night: Night) -> dict[int, list[int]]:
    """Operation: good, hold and scrap that stand counted, whoever counted them. 1 query."""
    rows = night.tallies.standing()
    return _by_operation(rows)


def _by_operation(rows: QuerySet[Any]) -> dict[int, list[int]]:
    named = rows.order_by().values_list("operation")
    found = named.annotate(of_good=Sum("good"), of_hold=Sum("hold"), of_scrap=Sum("scrap"))
    return {operation: list(three) for operation, *three in found}


def own_of(night: Night, tablet: Tablet) -> dict[int, list[int]]:
    """Operation: what this tablet counted that stands. 1 query."""
    rows = tablet.taps.filter(STANDING, night=night)
    return _by_operation(rows)


def gone_of(night: Night, tablet: Tablet) -> list[UUID]:
    """Keys of its taps that were shared and count no more: taken back or mended. 1 query."""
    counted = tablet.taps.filter(night=night).exclude(good=0, hold=0, scrap=0)
    return list(counted.exclude(STANDING).filter(refused="").values_list("key", flat=True))


def shared_up_to(tablet: Tablet) -> int:
    """The number up to which every tap of the tablet is here. 1 query; 2 when one is missing."""
    found = tablet.taps.aggregate(most=Max("number"), numbers=Count("number", distinct=True))
    most = found["most"] or 0
    if found["numbers"] == most:
        return most
    here = set(tablet.taps.values_list("number", flat=True))
    return next(number for number in range(most + 1) if number + 1 not in here)


def answer_to(night: Night, tablet: Tablet, keys: Iterable[UUID]) -> dict[str, Any]:
    """What a tablet is told after it shared: all that its page shows. 5 queries."""
    taps = dict(
        Press.objects.filter(shop=night.shop, key__in=list(keys)).values_list("key", "refused")
    )
    return {
        "name": tablet.name,
        "shared": [str(key) for key in taps],
        "said": {str(key): refused for key, refused in taps.items() if refused},
        "totals": totals_of(night),
        "own": own_of(night, tablet),
        "gone": [str(key) for key in gone_of(night, tablet)],
        "up_to": shared_up_to(tablet),
    }


def names_of(shop: Shop, operations: Iterable[int]) -> dict[int, str]:
    """Operations by name, in the order of the work. 1 query."""
    rows = Operation.objects.filter(shop=shop, pk__in=list(operations))
    return {row.pk: row.name for row in rows}


def latest_of(night: Night) -> QuerySet[Tally]:
    """The counts that stand, latest first, with the sheet that added one. 1 query."""
    return tallies_of(night).select_related("paper_line__sheet")


def history_of(night: Night) -> QuerySet[Tally]:
    """Every count of the night, also those taken back, latest first. 1 query."""
    rows = night.tallies.filter(undoes=None)
    rows = rows.select_related(
        "operation", "by", "entry", "undone_by__entry", "undone_by__by", "paper_line__sheet"
    )
    return rows.order_by("-counted_at", "-pk")


def mendings_of(night: Night) -> QuerySet[Mending]:
    """What was counted as something else, latest first. 1 query."""
    return night.mendings.select_related("counted_as", "was", "by")


def sheets_of(night: Night) -> list[PaperSheet]:
    """The sheets of the night that were typed in, latest number first. 2 queries."""
    typed = night.sheets.exclude(typed_at=None).select_related("typed_by")
    return list(typed.prefetch_related("lines__operation"))


def not_booked(night: Night) -> list[Press]:
    """Taps that are kept and not in the book, with why; without those taken back. 2 queries."""
    kept = night.presses.exclude(refused="").select_related("tablet", "operation")
    back = set(
        Press.objects.filter(takes_back__in=[tap.key for tap in kept]).values_list(
            "takes_back", flat=True
        )
    )
    return [tap for tap in kept if tap.key not in back]


@dataclass(frozen=True, slots=True)
class Standing:
    """How a tablet stands: what it shared, what it told of, and what is missing of that."""

    tablet: Tablet
    up_to: int
    last_tap: Press | None
    stations: tuple[str, ...]
    waiting: tuple[tuple[str, int], ...]

    @property
    def missing(self) -> int:
        """Taps it told of that never came."""
        return self.tablet.told - self.up_to

    @property
    def came_back(self) -> bool:
        """Whether it was declared lost and spoke again."""
        lost = self.tablet.lost_at
        return lost is not None and self.tablet.last_contact_at > lost


def tablets_of(night: Night) -> list[Standing]:
    """The tablets that counted on the night, or spoke that day. 4 queries, 2 more a tablet."""
    here = Q(taps__night=night) | Q(last_contact_at__date=night.date)
    rows = Tablet.objects.filter(here, shop=night.shop).select_related("lost_by").distinct()
    tapped = night.presses.filter(tally__isnull=False).select_related("operation__station")
    by_tablet: dict[int, list[Press]] = defaultdict(list)
    for tap in tapped.order_by("tapped_at", "number"):
        by_tablet[tap.tablet_id].append(tap)
    names = dict(Operation.objects.filter(shop=night.shop).values_list("pk", "name"))
    return [_standing(tablet, by_tablet[tablet.pk], names) for tablet in rows]


def _standing(tablet: Tablet, taps: list[Press], names: dict[int, str]) -> Standing:
    # Where it counted last is where the pieces are that nobody knows of.
    stations = Counter(tap.operation.station.name for tap in taps[-20:] if tap.operation)
    waiting = ((names.get(int(key), "?"), pieces) for key, pieces in tablet.waiting.items())
    return Standing(
        tablet=tablet,
        up_to=shared_up_to(tablet),
        last_tap=taps[-1] if taps else None,
        stations=tuple(name for name, _ in stations.most_common()),
        waiting=tuple((name, pieces) for name, pieces in waiting if pieces),
    )


@dataclass(frozen=True, slots=True)
class Beside:
    """A line of a sheet beside what was counted without it."""

    line: PaperLine
    counted: tuple[int, int, int]
    by: tuple[tuple[str, int], ...]

    @property
    def is_alike(self) -> bool:
        """Whether both say the same."""
        return self.counted == (self.line.good, self.line.hold, self.line.scrap)


def beside(sheet: PaperSheet) -> list[Beside]:
    """Each line of the sheet, and what stands counted of its operation otherwise. 2 queries."""
    lines = list(sheet.lines.select_related("operation__station", "decided_by", "tally"))
    wanted = [line.operation_id for line in lines]
    rows = (
        Tally.objects.standing()
        .filter(night=sheet.night_id, operation__in=wanted)
        .order_by("counted_at")
    )
    counts: dict[int, list[Tally]] = defaultdict(list)
    for row in rows:
        counts[row.operation_id].append(row)
    return [_beside(line, counts[line.operation_id]) for line in lines]


def _beside(line: PaperLine, rows: list[Tally]) -> Beside:
    others = [row for row in rows if row.pk != line.tally_id]
    pieces: Counter[str] = Counter()
    for row in others:
        pieces[row.counted_by or "typed on the page"] += row.good + row.hold + row.scrap
    good, hold, scrap = (sum(getattr(row, name) for row in others) for name in KINDS)
    return Beside(line, (good, hold, scrap), tuple(pieces.items()))


def sheet_of(shop: Shop, number: int) -> PaperSheet | None:
    """A sheet that was typed in, with its night, or None. 1 query."""
    rows = PaperSheet.objects.select_related("night__shop", "typed_by")
    return rows.filter(shop=shop, number=number).exclude(typed_at=None).first()


def silent_since(night: Night, now: datetime) -> list[Tablet]:
    """Tablets of the night with taps told of and not shared. 1 query, 1 more a tablet."""
    rows = Tablet.objects.filter(shop=night.shop, taps__night=night, lost_at=None).distinct()
    return [row for row in rows if row.last_contact_at <= now and row.told > shared_up_to(row)]
