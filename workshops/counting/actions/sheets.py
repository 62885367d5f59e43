"""Tally sheets on paper: numbered when printed, typed in once, decided line by line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from django.db import transaction
from django.db.models import Max

from inventory.ledger.actions import lock_book
from inventory.places.models import Shop
from workshops.access.models import User
from workshops.counting.actions.settling import settle, standing, sums
from workshops.counting.models import PaperLine, PaperSheet
from workshops.counting.refusals import CountingRefused
from workshops.nights.models import Night
from workshops.stations.models import Operation


@dataclass(frozen=True, slots=True, kw_only=True)
class Counted:
    """What the paper says of one operation."""

    operation: Operation
    good: int = 0
    hold: int = 0
    scrap: int = 0


@dataclass(frozen=True, slots=True)
class Decided:
    """What somebody decided about one line, and in what words."""

    line: PaperLine
    decision: str
    word: str


@transaction.atomic
def number_sheets(*, night: Night, how_many: int, at: datetime) -> list[PaperSheet]:
    """Numbers for sheets that are about to be printed; each is typed in once, or never."""
    lock_book(night.shop)
    first = _next_number(night.shop)
    return PaperSheet.objects.bulk_create(
        PaperSheet(shop=night.shop, night=night, number=first + at_place, printed_at=at)
        for at_place in range(how_many)
    )


@transaction.atomic
def type_in(
    *,
    night: Night,
    number: int | None,
    counted: Sequence[Counted],
    counted_by: str,
    by: User,
    at: datetime,
    note: str = "",
) -> PaperSheet:
    """Write down what a sheet says. Nothing is counted yet: each line waits for a decision.

    Without a number (a sheet of plain paper, a second count) it gets the next one.

    Raises
    ------
    CountingRefused
        When the sheet was typed in before, is of another night, was never printed, or is empty.
    """
    lock_book(night.shop)
    kept = [each for each in counted if each.good or each.hold or each.scrap]
    if not kept:
        raise CountingRefused("Nothing is written: type in at least one number of the sheet.")
    sheet = _found(night, number) if number else _unnumbered(night)
    sheet.counted_by, sheet.note = counted_by.strip()[:80], note.strip()[:200]
    sheet.typed_at, sheet.typed_by = at, by
    sheet.save()
    PaperLine.objects.bulk_create(
        PaperLine(
            sheet=sheet, operation=each.operation, good=each.good, hold=each.hold, scrap=each.scrap
        )
        for each in kept
    )
    return sheet


@transaction.atomic
def decide(*, sheet: PaperSheet, decided: Sequence[Decided], by: User, at: datetime) -> None:
    """Settle lines of a sheet beside what the tablets counted; a decision may be changed.

    Raises
    ------
    CountingRefused
        When a decision has no word, is none of the three, or a line is of another sheet.
    """
    night = Night.objects.select_for_update().select_related("shop").get(pk=sheet.night_id)
    for each in decided:
        line = each.line
        if line.sheet_id != sheet.pk or each.decision not in PaperLine.Decision.values:
            raise CountingRefused("Choose one of the three for a line of this sheet.")
        if not each.word.strip():
            raise CountingRefused(f"{line.operation}: say why in a word or two, and who knows it.")
        if line.decision:
            line.earlier = [*line.earlier, _as_it_was(line)]
        others = standing(night, line.operation_id).exclude(paper_line=line)
        line.decision, line.word, line.beside = each.decision, each.word.strip(), sums(others)
        line.decided_by, line.decided_at = by, at
        line.save()
    settle(night=night, operations={each.line.operation_id for each in decided}, by=by, at=at)


def _as_it_was(line: PaperLine) -> dict[str, str]:
    return {
        "decision": line.get_decision_display(), "word": line.word, "by": str(line.decided_by),
        "at": line.decided_at.isoformat() if line.decided_at else "",
    }  # fmt: skip


def _next_number(shop: Shop) -> int:
    return (PaperSheet.objects.filter(shop=shop).aggregate(most=Max("number"))["most"] or 0) + 1


def _unnumbered(night: Night) -> PaperSheet:
    return PaperSheet(shop=night.shop, night=night, number=_next_number(night.shop))


def _found(night: Night, number: int) -> PaperSheet:
    sheet = PaperSheet.objects.select_related("night", "typed_by").filter(
        shop=night.shop, number=number
    ).first()  # fmt: skip
    if sheet is None:
        raise CountingRefused(
            f"No sheet {number} was printed here: look at the number again. A sheet without a "
            "number is typed in without one."
        )
    if sheet.night_id != night.pk:
        raise CountingRefused(f"Sheet {number} is of {sheet.night}: type it in there.")
    if sheet.typed_at is not None:
        name = sheet.typed_by or "somebody"
        raise CountingRefused(f"Sheet {number} was typed in before, by {name}: it counts once.")
    return sheet
