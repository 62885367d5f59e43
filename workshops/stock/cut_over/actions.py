"""Giving everything that lies by the old drawing its fate, all of it at once or nothing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID, uuid5

from django.db import transaction
from django.db.models import Max

from inventory.ledger import actions as ledger
from inventory.ledger.models import Entry
from workshops.access.models import User
from workshops.stations.models import BuildSheet
from workshops.stock.cut_over.fates import Fate, Lying, broken_pairs, refusals_of
from workshops.stock.cut_over.lying import Before, look_before
from workshops.stock.models import CutOver, CutOverLine

REASON_MOST = 200


class CutOverRefused(ValueError):
    """Fates that cannot be posted: ``spots`` names what is wrong with single spots."""

    def __init__(self, says: str, spots: Mapping[str, str] | None = None) -> None:
        self.spots = dict(spots or {})
        super().__init__(says)


class NothingBefore(CutOverRefused):
    """A drawing that is not in force, or that no other was in force before."""


class CountsChanged(CutOverRefused):
    """Something was made, used or moved since the page was opened: look again."""


class PairsBroken(CutOverRefused):
    """Posts or heads would be left without one that matches."""


@dataclass(frozen=True, slots=True)
class _Sitting:
    """What every posting of one cut-over has in common."""

    cut_over: CutOver
    by: User | None
    at: datetime


@transaction.atomic
def cut_over(
    *,
    sheet: BuildSheet,
    fates: Mapping[str, Fate],
    by: User | None,
    at: datetime,
    client_key: UUID,
) -> CutOver:
    """Post every fate: scrap leaves the book, rework goes on hold, use up stays and is marked.

    The same key never posts twice. What lies there is looked at again with the book locked.

    Raises
    ------
    NothingBefore, CountsChanged, PairsBroken, CutOverRefused
        Saying what to do; nothing is posted then.
    PostingRefused
        When the book refuses a line after all.
    """
    # Nobody tallies between the look and the posting.
    ledger.lock_book(sheet.shop)
    sent = CutOver.objects.filter(shop_id=sheet.shop_id, client_key=client_key).first()
    if sent is not None:
        return sent
    look = look_before(sheet)
    if look is None:
        raise NothingBefore("No drawing was in force before this one, or it is not in force.")
    _refuse(look, fates)
    row = CutOver.objects.create(
        shop=sheet.shop, sheet=sheet, before=look.before, by=by, at=at, client_key=client_key
    )
    sitting = _Sitting(row, by, at)
    for spot in look.lying:
        _post(sitting, spot, fates[spot.key])
    row.last_entry = Entry.objects.filter(shop=sheet.shop).aggregate(last=Max("pk"))["last"] or 0
    row.save(update_fields=["last_entry"])
    return row


def _refuse(look: Before, fates: Mapping[str, Fate]) -> None:
    if not look.lying:
        raise NothingBefore("Nothing lies there by the drawing before: there is nothing to decide.")
    lying = {spot.key: spot.quantity for spot in look.lying}
    if lying != {key: fate.seen for key, fate in fates.items()}:
        raise CountsChanged("Something was made, used or moved meanwhile: look again.")
    if spots := refusals_of(look.lying, fates):
        raise CutOverRefused("Not everything has its fate yet.", spots)
    if broken := broken_pairs(look.lying, fates, look.mates):
        raise PairsBroken(" ".join(broken))


def _post(sitting: _Sitting, spot: Lying, fate: Fate) -> None:
    row = sitting.cut_over
    CutOverLine.objects.create(
        cut_over=row, item=spot.item, place=spot.place, condition=spot.condition,
        quantity=spot.quantity, use_up=fate.use_up, rework=fate.rework, scrap=fate.scrap,
        reason=fate.reason.strip(), scrap_entry=_scrap(sitting, spot, fate),
        hold_entry=_hold(sitting, spot, fate),
    )  # fmt: skip


def _scrap(sitting: _Sitting, spot: Lying, fate: Fate) -> Entry | None:
    if not fate.scrap:
        return None
    row = sitting.cut_over
    reason = f"rev {row.sheet.revision} came into force: {fate.reason.strip()}"[:REASON_MOST]
    return ledger.scrap(
        shop=row.shop, item=spot.item, quantity=fate.scrap, place=spot.place, reason=reason,
        condition=spot.condition, by=sitting.by, at=sitting.at,
        client_key=uuid5(row.client_key, f"{spot.key} scrap"),
    )  # fmt: skip


def _hold(sitting: _Sitting, spot: Lying, fate: Fate) -> Entry | None:
    """What is on hold already stays there: the rework list names it all the same."""
    if not fate.rework or spot.is_held:
        return None
    row = sitting.cut_over
    reason = f"rework to rev {row.sheet.revision}: {fate.reason.strip()}"[:REASON_MOST]
    return ledger.hold(
        shop=row.shop, item=spot.item, quantity=fate.rework, place=spot.place, reason=reason,
        by=sitting.by, at=sitting.at, client_key=uuid5(row.client_key, f"{spot.key} rework"),
    )  # fmt: skip
