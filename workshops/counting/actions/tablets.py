"""Tablets: met at their first contact, named once, and declared lost by a person."""

from __future__ import annotations

from datetime import datetime

from django.db import IntegrityError, transaction

from inventory.places.models import Shop
from workshops.access.models import User
from workshops.counting.models import Tablet
from workshops.counting.outbox import NAME, Batch
from workshops.counting.refusals import CountingRefused


def met(shop: Shop, batch: Batch, *, at: datetime) -> Tablet:
    """The tablet that sent the batch, with what it tells of itself written down.

    What is told of a tablet is kept even when nothing of it can be booked.
    """
    tablet = Tablet.objects.filter(shop=shop, key=batch.tablet).first()
    if tablet is None:
        tablet = _new(shop, batch, at=at)
    if batch.name and batch.name != tablet.name and tablet.lost_at is None:
        tablet.name = _free_name(shop, batch.name, but=tablet)
    # An answer that was lost makes a tablet send an older batch again: it never unlearns.
    tablet.told = max(tablet.told, batch.told, *(tap.number for tap in batch.taps), 0)
    tablet.waiting, tablet.last_contact_at = batch.waiting, at
    tablet.save(update_fields=["name", "told", "waiting", "last_contact_at"])
    return tablet


@transaction.atomic
def lose(*, tablet: Tablet, words: str, by: User, at: datetime) -> Tablet:
    """Write down that a tablet is lost, and with what word; its name is free again.

    Its taps stay. Should it be found and share after all, what it shares is counted.

    Raises
    ------
    CountingRefused
        When it is lost already, or nobody says how.
    """
    if tablet.lost_at is not None:
        raise CountingRefused(f"{tablet} was declared lost before.")
    if not words.strip():
        raise CountingRefused("Say how it was lost: broken, battery empty, gone.")
    tablet.lost_at, tablet.lost_by, tablet.lost_words = at, by, words.strip()[:200]
    tablet.save(update_fields=["lost_at", "lost_by", "lost_words"])
    return tablet


def _new(shop: Shop, batch: Batch, *, at: datetime) -> Tablet:
    name = _free_name(shop, batch.name or f"tablet {batch.tablet.hex[:4]}")
    try:
        with transaction.atomic():
            return Tablet.objects.create(
                shop=shop, key=batch.tablet, name=name, added_at=at, last_contact_at=at
            )
    except IntegrityError:
        return Tablet.objects.get(shop=shop, key=batch.tablet)


def _free_name(shop: Shop, name: str, but: Tablet | None = None) -> str:
    """The name, or with a number behind it when another tablet has it."""
    others = Tablet.objects.filter(shop=shop, lost_at=None).exclude(pk=but.pk if but else 0)
    taken = set(others.values_list("name", flat=True))
    names = [name, *(f"{name[: NAME - 4]} {number}" for number in range(2, len(taken) + 3))]
    return next(each for each in names if each not in taken)
