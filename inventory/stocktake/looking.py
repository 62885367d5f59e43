"""One person's counts, put on a sheet as they come and then declared done; part of ``actions``."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from django.db import transaction

from inventory.ledger.actions import Counted
from inventory.stocktake.models import CountLine, CountSheet, Look, Turn
from inventory.stocktake.opened import Who, still_open
from inventory.stocktake.progress import Progress
from inventory.stocktake.queries import lines_for
from inventory.stocktake.refusals import SamePerson, StocktakeRefused

# A line's count, and ``None`` for "not looked at".
Counts = Mapping[int, Decimal | None]
FINEST = Decimal("0.001")


@dataclass(frozen=True, slots=True)
class Counter:
    """Who counts, as the sheet names them, and whether it is typed in from paper."""

    name: str
    is_from_paper: bool = False


@transaction.atomic
def put_count(
    *,
    sheet: CountSheet,
    turn: int,
    counter: Counter,
    counts: Counts,
    finds: Sequence[Counted] = (),
    by: Who,
    at: datetime,
) -> Look:
    """Write what was counted so far; ``at`` is the moment it was counted.

    A count that is written again unchanged keeps its moment, so a page may be sent as often
    as one likes. ``finds`` are things that the sheet does not list.

    Raises
    ------
    SamePerson
        When the counter did the other count, and the coordinator has not let them.
    StocktakeRefused
        When the look is done, a count makes no sense, or a third look is not owed.
    """
    sheet = still_open(sheet)
    look = _look(sheet, turn, counter, by=by, at=at)
    asked = {line.pk: line for line in lines_for(sheet, turn)}
    for pk, count in counts.items():
        if pk not in asked:
            raise StocktakeRefused("The sheet changed meanwhile: open it again.")
        _put(asked[pk], turn, count, at)
    for find in finds:
        _put(_found(sheet, turn, find), turn, find.quantity, at)
    return look


@transaction.atomic
def finish_look(*, sheet: CountSheet, turn: int, at: datetime) -> Look:
    """Declare a look done; what was not looked at stays so. Done twice is no harm.

    Raises
    ------
    StocktakeRefused
        When nobody began it, nothing was looked at, or owed lines are left in a third look.
    """
    sheet = still_open(sheet)
    look = sheet.looks.filter(turn=turn).first()
    if look is None:
        raise StocktakeRefused("Say who counts first.")
    lines = lines_for(sheet, turn)
    if turn == Turn.THIRD and any(line.is_doubted or not line.seen(turn) for line in lines):
        raise StocktakeRefused("Look at every line of a third look: nobody looks after you.")
    # A place where nothing should lie and nothing was found is counted all the same.
    if lines and not any(line.seen(turn) for line in lines):
        raise StocktakeRefused("Nothing is counted yet: write at least one number.")
    if look.done_at is None or turn == Turn.THIRD:
        look.done_at = at
        look.save(update_fields=["done_at"])
    return look


def _look(sheet: CountSheet, turn: int, counter: Counter, *, by: Who, at: datetime) -> Look:
    """The look of the turn, begun when it is not; refused when it cannot go on."""
    if not counter.name.strip():
        raise StocktakeRefused("Say who counts.")
    looks = {look.turn: look for look in sheet.looks.all()}
    look = looks.get(turn)
    if turn == Turn.THIRD:
        if not Progress(sheet, ()).is_counted_twice:
            raise StocktakeRefused("A third look comes after both counts.")
    elif look is not None and look.done_at is not None:
        raise StocktakeRefused(f"The {look.get_turn_display()} is done: ask for a third look.")
    else:
        _refuse_same_person(sheet, looks.get(3 - turn), counter, by)
    told = {"counter": counter.name.strip(), "is_from_paper": counter.is_from_paper}
    told_by = {"by_id": by.pk if by else None}
    look, _ = Look.objects.update_or_create(
        sheet=sheet, turn=turn, defaults=told | told_by, create_defaults=told | told_by | {
            "began_at": at
        },
    )  # fmt: skip
    return look


def _refuse_same_person(sheet: CountSheet, other: Look | None, counter: Counter, by: Who) -> None:
    if other is None or sheet.alone_reason:
        return
    # Whoever typed the other count has seen it, unless it is paper that another one counted.
    typed_both = by is not None and other.by_id == by.pk and not counter.is_from_paper
    if _squeezed(other.counter) == _squeezed(counter.name) or typed_both:
        raise SamePerson(
            f"{other.counter} did the {other.get_turn_display()}. The other one is counted by "
            "somebody else who has not seen it, unless one person may count the place alone."
        )


def _squeezed(name: str) -> str:
    return "".join(name.split()).casefold()


def _put(line: CountLine, turn: int, count: Decimal | None, at: datetime) -> None:
    seen = line.seen(turn)
    is_again = turn == Turn.THIRD and line.is_doubted
    if not is_again and (seen[0] if seen else None) == count:
        return
    _refuse_nonsense(line, count)
    field = Turn(turn).name.lower()
    setattr(line, field, count)
    setattr(line, f"{field}_at", None if count is None else at)
    if turn == Turn.THIRD and count is not None:
        line.is_doubted = False
    line.save(update_fields=[field, f"{field}_at", "is_doubted"])


def _refuse_nonsense(line: CountLine, count: Decimal | None) -> None:
    if count is None:
        return
    if count < 0:
        raise StocktakeRefused(f"{line.item}: a count cannot be less than nothing.")
    finest = Decimal(1) if line.item.is_by_length else FINEST
    if count % finest:
        raise StocktakeRefused(f"{line.item}: {count} is finer than it is counted.")


def _found(sheet: CountSheet, turn: int, find: Counted) -> CountLine:
    """The line of a find: a new one, or the same find of the other counter."""
    if find.item.shop_id != sheet.stocktake.shop_id:
        raise StocktakeRefused(f"{find.item} belongs to another shop.")
    if find.item.is_by_length != bool(find.length_um):
        needs = "needs a length" if find.item.is_by_length else "is not held by length"
        raise StocktakeRefused(f"{find.item} {needs}.")
    line, _ = CountLine.objects.get_or_create(
        sheet=sheet, item=find.item, length_um=find.length_um, condition=find.condition,
        defaults={"found_in": turn},
    )  # fmt: skip
    return line
