"""Working out the needs and keeping the answer."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from django.contrib.auth.base_user import AbstractBaseUser

from inventory.needs.models import NeedsRun
from inventory.needs.queries import worked_out
from inventory.needs.scrap import Scrap
from inventory.needs.translate import Night
from inventory.places.models import Shop


def work_out(
    *,
    shop: Shop,
    wanted: Mapping[int, int],
    today: date,
    by: AbstractBaseUser | None,
    nights: Sequence[Night] = (),
    scrap: Mapping[int, Scrap] | None = None,
    assumption: str = "",
    seconds: float = 3,
) -> NeedsRun:
    """Keep the answer to: what is possible now, what runs out first, what to buy by when.

    ``wanted`` is the number of sets by item, finished ones among them; ``nights`` are the
    nights to come with the sets usually finished on one, or with what is made of each item;
    ``assumption`` says in words where those numbers come from. ``scrap`` is what is expected to
    fail, by item.

    Raises
    ------
    NeedsRefused
        When a wanted item is no item of the shop, or the recipes go in a circle.
    """
    run = worked_out(
        shop,
        wanted,
        today=today,
        nights=nights,
        scrap=scrap,
        assumption=assumption,
        seconds=seconds,
    )
    run.made_by_id = by.pk if by else None
    run.save()
    return run
