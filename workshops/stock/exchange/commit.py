"""All of a list is written, or nothing of it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from django.core.exceptions import ValidationError
from django.db import transaction

from inventory.ledger.actions import PostingRefused, lock_book
from workshops.access.models import User
from workshops.common.models import Upload
from workshops.common.uploads import throw_away, upload_of
from workshops.stock.exchange.preview import Preview, preview_of


class ListRefused(ValueError):
    """A list that could not be written; nothing of it was."""


class ListGone(ListRefused):
    """A list that was written or thrown away already."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What was written, or the fates as they are now when they are not those that were seen."""

    preview: Preview
    is_written: bool


def commit(upload: Upload, *, seen: str, by: User, at: datetime) -> Outcome:
    """Write every row of the list, if each still comes to the fate that was ``seen``.

    The fates are worked out again with the book locked, so that nothing can come between
    the looking and the writing. ``seen`` is the plan's print as the page showed it.

    Raises
    ------
    ListGone
        When it was written or thrown away meanwhile.
    ListRefused
        When the book or an item refuses a row after all.
    """
    try:
        return _commit(upload, seen=seen, by=by, at=at)
    except PostingRefused as refused:
        raise ListRefused(str(refused)) from refused
    except ValidationError as refused:
        raise ListRefused(" ".join(refused.messages)) from refused


@transaction.atomic
def _commit(upload: Upload, *, seen: str, by: User, at: datetime) -> Outcome:
    lock_book(upload.shop)
    # Read again inside the lock: of two who press at once, the second finds it gone.
    kept = upload_of(upload.shop, by, upload.pk)
    if kept is None:
        raise ListGone("This list was written or thrown away already.")
    preview = preview_of(kept)
    if preview.plan.print != seen or not preview.plan.can_be_written:
        return Outcome(preview, is_written=False)
    preview.plan.write(by, at)
    throw_away(kept)
    return Outcome(preview, is_written=True)
