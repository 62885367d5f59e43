"""Checking a piece, holding back what it stands for, sorting what was held. All atomic.

Nothing is changed afterwards: a mistake is put right by a new check that names the old one.
"""

from __future__ import annotations

import uuid
from dataclasses import dataclass, field
from datetime import datetime
from uuid import UUID, uuid5

from django.db import transaction

from inventory.ledger.actions import lock_book
from inventory.ledger.models import Condition
from workshops.access.models import User
from workshops.nights.models import Night
from workshops.quality.batches import Batch, batch_of, line_of, standing
from workshops.quality.holding import Who, as_rows, hold_back, release, throw_away
from workshops.quality.models import Check, Held, Sorted
from workshops.quality.refusals import CheckRefused
from workshops.quality.sorting import Counts, hold_further, sort_held
from workshops.quality.tracing import Gone
from workshops.stations.models import Operation

__all__ = ["CheckRefused", "Counts", "Finding", "check_piece", "hold_further", "sort_held"]


@dataclass(frozen=True)
class Finding:
    """What somebody found on a piece.

    ``from_rack`` pieces were broken in the test and leave the book as scrap.
    """

    kind: str
    is_good: bool
    checked_by: str
    how: str = Check.How.EYE
    measure: str = ""
    value_um: int | None = None
    said: str = ""
    words: str = ""
    looked_at: int = 1
    from_rack: int = 0
    client_key: UUID = field(default_factory=uuid.uuid4)


@transaction.atomic
def check_piece(
    *,
    night: Night,
    operation: Operation,
    found: Finding,
    by: User | None,
    at: datetime,
    corrects: Check | None = None,
) -> Check:
    """Write a check down; a bad one holds back everything since the last good one.

    What lies on the rack goes on hold in the book with the check as its reason, what is gone
    is named. Sent again with its key it is the same check. With ``corrects`` it takes the
    place of the last check of its line, and what that one held back is let go first.

    Raises
    ------
    CheckRefused
        For a cancelled night, another shop's operation, a bad piece without words, or a check
        that cannot be corrected any more.
    inventory.ledger.actions.NotEnough
        When more were broken than lie on the rack.
    """
    Night.objects.select_for_update().get(pk=night.pk)
    lock_book(night.shop)
    already = Check.objects.filter(shop=night.shop, client_key=found.client_key).first()
    if already is not None:
        return already
    _refuse_nonsense(night, operation, found)
    who = Who(night, by, at, found.client_key)
    if corrects is not None:
        _let_go(corrects, operation, found, who)
    batch = batch_of(night, operation, found.kind, leaving_out=corrects)
    row = _written(night, operation, found, batch, by=by, at=at, corrects=corrects)
    if found.from_rack:
        throw_away(
            operation.recipe.output, found.from_rack, Condition.GOOD,
            reason=f"broken in a test of {operation.name}"[:200], who=who,
        )  # fmt: skip
    if not row.is_good and row.kind != Check.Kind.REWORK:
        _hold(row, batch, who, broken=min(found.from_rack, batch.count))
    return row


def _refuse_nonsense(night: Night, operation: Operation, found: Finding) -> None:
    if operation.shop_id != night.shop_id or night.status == Night.Status.CANCELLED:
        raise CheckRefused(f"{operation.name} cannot be checked for {night}.")
    if not found.checked_by.strip():
        raise CheckRefused("Checked by: write who looked at the piece.", "checked_by")
    if not found.is_good and not found.words.strip():
        raise CheckRefused("What is wrong: say it in a few words; others sort by it.", "words")
    if (found.how == Check.How.MEASURED) != (found.value_um is not None):
        raise CheckRefused("Measured: type what the tape or the caliper says.", "value")
    if not 0 <= found.from_rack <= found.looked_at or found.looked_at < 1:
        raise CheckRefused("Pieces: no more are broken than were looked at.", "looked_at")


def _written(
    night: Night, operation: Operation, found: Finding, batch: Batch, *, by: User | None,
    at: datetime, corrects: Check | None,
) -> Check:  # fmt: skip
    return Check.objects.create(
        shop=night.shop, night=night, operation=operation, kind=found.kind, how=found.how,
        is_good=found.is_good, measure=found.measure[:80], value_um=found.value_um,
        said=found.said[:200], words=found.words.strip()[:200], looked_at=found.looked_at,
        since_last=batch.count, checked_by=found.checked_by.strip()[:80], by=by, at=at,
        corrects=corrects, client_key=found.client_key,
    )  # fmt: skip


def _hold(row: Check, batch: Batch, who: Who, *, broken: int) -> None:
    item = row.operation.recipe.output
    reason = f"{row.get_kind_display()} failed: {row.words} ({row.checked_by})"[:200]
    # What was broken is of the batch, and is not looked for on the rack.
    held, gone = hold_back(item, batch.count - broken, reason=reason, who=who)
    if broken:
        gone.insert(0, Gone("broken in the test", broken))
    Held.objects.create(
        shop=row.shop, failed=row, item=item, back_to=batch.last_good, suspected=batch.count,
        held=held, gone=as_rows(gone), by=who.by, at=who.at,
        client_key=uuid5(row.client_key, "held"),
    )  # fmt: skip


def _let_go(old: Check, operation: Operation, found: Finding, who: Who) -> None:
    """Release what a check held back that was a mistake."""
    last = standing(operation, line_of(old.kind)).first()
    if old.operation_id != operation.pk or line_of(old.kind) != line_of(found.kind):
        raise CheckRefused("A check is corrected by one of its own kind and operation.")
    if last is None or last.pk != old.pk:
        raise CheckRefused("Only the last check is put right; write a new one instead.")
    rows = list(Held.objects.filter(failed=old).select_related("item__shop", "item__home"))
    if Sorted.objects.filter(held__in=rows).exists():
        raise CheckRefused("Some of what it held back is sorted already: sort the rest as well.")
    for row in rows:
        if row.held:
            each = Who(who.night, who.by, who.at, uuid5(who.key, f"let go {row.pk}"))
            release(row.item, row.held, reason="held back by mistake", who=each)
            Sorted.objects.create(
                shop=row.shop, held=row, good=row.held, words="held back by mistake",
                sorted_by=found.checked_by[:80], by=who.by, at=who.at, client_key=each.key,
            )  # fmt: skip
