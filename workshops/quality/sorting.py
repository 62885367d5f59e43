"""What was held back is sorted into good, rework and scrap, and further things are held; parts
of ``actions``.

At every moment: held = sorted good + sorted scrap + in rework + still to sort.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID, uuid4

from django.db import transaction
from django.db.models import Q, Sum

from inventory.ledger.actions import lock_book
from inventory.ledger.models import Condition
from inventory.materials.models import Item
from workshops.access.models import User
from workshops.quality.holding import Who, as_rows, hold_back, release, throw_away
from workshops.quality.models import Check, Held, Sorted
from workshops.quality.refusals import CheckRefused


@dataclass(frozen=True, slots=True)
class Counts:
    """So many of what was held back."""

    good: int = 0
    rework: int = 0
    scrap: int = 0

    @property
    def total(self) -> int:
        """All of them."""
        return self.good + self.rework + self.scrap


@dataclass(frozen=True, slots=True)
class Standing:
    """How far the sorting of one held batch is."""

    left: int
    in_rework: int
    good: int
    scrap: int

    @property
    def is_done(self) -> bool:
        """Whether nothing is left to sort or to mend."""
        return not self.left and not self.in_rework


def standing_of(held: Held) -> Standing:
    """What is left to sort, what is being mended, what came out. 1 query."""
    first, mended = Q(from_rework=False), Q(from_rework=True)
    sums = Sorted.objects.filter(held=held).aggregate(
        good_at_once=Sum("good", filter=first), to_mend=Sum("rework"),
        scrap_at_once=Sum("scrap", filter=first),
        mended_good=Sum("good", filter=mended), mended_scrap=Sum("scrap", filter=mended),
    )  # fmt: skip
    n = {name: count or 0 for name, count in sums.items()}
    return Standing(
        left=held.held - n["good_at_once"] - n["to_mend"] - n["scrap_at_once"],
        in_rework=n["to_mend"] - n["mended_good"] - n["mended_scrap"],
        good=n["good_at_once"] + n["mended_good"],
        scrap=n["scrap_at_once"] + n["mended_scrap"],
    )


@transaction.atomic
def sort_held(
    *,
    held: Held,
    counts: Counts,
    sorted_by: str,
    by: User | None,
    at: datetime,
    words: str = "",
    from_rework: bool = False,
    after: Check | None = None,
    client_key: UUID | None = None,
) -> Sorted:
    """Sort some of what was held back; the book follows. Sent again, it is sorted once.

    Good ones are released, scrap leaves the book, rework stays on hold until it is mended:
    then ``from_rework``, and what is good needs a good check ``after`` the mending.

    Raises
    ------
    CheckRefused
        When more would be sorted than is left, nothing is counted, or nobody checked.
    inventory.ledger.actions.NotEnough
        When fewer are on hold than were held: somebody changed that in the book.
    """
    key, night = client_key or uuid4(), held.failed.night
    lock_book(held.shop)
    already = Sorted.objects.filter(shop=held.shop, client_key=key).first()
    if already is not None:
        return already
    _refuse_sorting(held, counts, sorted_by=sorted_by, from_rework=from_rework, after=after)
    who, why = Who(night, by, at, key), f"sorted by {sorted_by.strip()}: {held.failed.words}"[:200]
    if counts.good:
        release(held.item, counts.good, reason=why, who=who)
    if counts.scrap:
        throw_away(held.item, counts.scrap, Condition.HOLD, reason=why, who=who)
    return Sorted.objects.create(
        shop=held.shop, held=held, good=counts.good, rework=counts.rework, scrap=counts.scrap,
        from_rework=from_rework, after=after if from_rework else None, words=words.strip()[:200],
        sorted_by=sorted_by.strip()[:80], by=by, at=at, client_key=key,
    )  # fmt: skip


def _refuse_sorting(
    held: Held, counts: Counts, *, sorted_by: str, from_rework: bool, after: Check | None
) -> None:
    if not sorted_by.strip():
        raise CheckRefused("Sorted by: write who sorted them.", "sorted_by")
    if min(counts.good, counts.rework, counts.scrap) < 0 or not counts.total:
        raise CheckRefused("Count at least one: good, rework or scrap.", "good")
    standing = standing_of(held)
    left = standing.in_rework if from_rework else standing.left
    if counts.total > left:
        where = "being mended" if from_rework else "still to sort"
        raise CheckRefused(f"{counts.total} are more than the {left} {where}.", "good")
    if not from_rework:
        return
    if counts.rework:
        raise CheckRefused("What is being mended comes out good or scrap.", "rework")
    is_seen = after is not None and after.is_good and after.kind == Check.Kind.REWORK
    if counts.good and not (is_seen and after and after.operation_id == held.failed.operation_id):
        raise CheckRefused("Mended pieces go back after a good check: check one first.", "good")


@transaction.atomic
def hold_further(
    *,
    held: Held,
    item: Item,
    by: User | None,
    at: datetime,
    client_key: UUID | None = None,
) -> Held:
    """Hold back what the pieces that were gone already went into: the heads with the bad rods.

    Raises
    ------
    CheckRefused
        When none of the pieces went into that, or it was held back before.
    """
    key = client_key or uuid4()
    lock_book(held.shop)
    already = Held.objects.filter(shop=held.shop, client_key=key).first()
    if already is not None:
        return already
    count = sum(row["count"] for row in held.gone if row["item"] == item.pk)
    if not count:
        raise CheckRefused(f"None of them went into {item}.")
    if held.further.filter(item=item).exists():
        raise CheckRefused(f"{item}: held back already.")
    reason = f"{held.item} in them: {held.failed.words}"[:200]
    count_held, gone = hold_back(
        item, count, reason=reason, who=Who(held.failed.night, by, at, key)
    )
    return Held.objects.create(
        shop=held.shop, failed_id=held.failed_id, item=item, because_of=held, back_to=held.back_to,
        suspected=count, held=count_held, gone=as_rows(gone), by=by, at=at, client_key=key,
    )  # fmt: skip
