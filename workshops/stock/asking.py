"""Asking for the needs: what is wanted, at what pace, with what usually fails."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime, time, timedelta

from inventory.materials.queries import recipes_in_use
from inventory.needs.actions import work_out
from inventory.needs.models import NeedsRun
from inventory.needs.scrap import STATED_PER_MILLE, scrap_of
from inventory.places.models import Shop
from workshops.access.models import User
from workshops.stock.pace_ahead import at_pace, at_rate

TWO_WINTERS = timedelta(days=2 * 366)  # older tallies were made with other jigs


def ask(
    *,
    shop: Shop,
    wanted: Mapping[int, int],
    today: date,
    by: User | None,
    a_night: int | None = None,
    stated_per_mille: int = STATED_PER_MILLE,
) -> NeedsRun:
    """Work out the needs and keep the answer.

    ``a_night``: so many sets on every planned night; without it, the season's pace.

    Raises
    ------
    inventory.needs.queries.NeedsRefused
        When a wanted item is no item of the shop, or the recipes go in a circle.
    """
    since = datetime.combine(today, time(), tzinfo=shop.zone) - TWO_WINTERS
    scrap = scrap_of(shop, recipes_in_use(shop), since=since, stated_per_mille=stated_per_mille)
    ahead = at_pace(shop, today, scrap) if a_night is None else at_rate(shop, today, a_night)
    return work_out(
        shop=shop, wanted=wanted, today=today, by=by,
        nights=ahead.nights, scrap=scrap, assumption=ahead.assumption,
    )  # fmt: skip
