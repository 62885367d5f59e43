"""The needs of a shop: worked out now, or as they were last worked out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from django.utils import timezone

from inventory.deliveries.expected import expected
from inventory.engines.stop import Seconds
from inventory.ledger.models import Entry
from inventory.ledger.queries import on_hand
from inventory.materials.queries import recipes_in_use
from inventory.needs.answer import (
    NeedOf,
    Needs,
    RunningOut,
    SetsPossible,
    ToBuy,
    bought_as,
    needs_in,
)
from inventory.needs.engine.solve import solve
from inventory.needs.models import NeedsRun
from inventory.needs.scrap import Scrap
from inventory.needs.translate import Asked, Keys, Night, problem_of, row_of
from inventory.places.models import Shop

__all__ = [
    "NeedOf",
    "Needs",
    "NeedsRefused",
    "RunningOut",
    "SetsPossible",
    "ToBuy",
    "bought_as",
    "is_stale",
    "latest_needs",
    "needs_in",
    "needs_of",
    "worked_out",
]


class NeedsRefused(ValueError):
    """Needs that cannot be worked out; the sentence says what is wrong."""


def needs_of(
    shop: Shop, wanted: Mapping[int, int], *, today: date | None = None, seconds: float = 1
) -> Needs:
    """The needs for so many sets by item, worked out now and not kept. 6 queries.

    Raises
    ------
    NeedsRefused
        As ``worked_out``.
    """
    day = today or timezone.now().astimezone(shop.zone).date()
    return needs_in(worked_out(shop, wanted, today=day, seconds=seconds))


def latest_needs(shop: Shop) -> Needs | None:
    """The last answer that was kept; ``None`` for a shop that never asked. 2 queries."""
    run = NeedsRun.objects.filter(shop=shop).order_by("-made_at", "-pk").first()
    return None if run is None else needs_in(run)


def is_stale(needs: Needs) -> bool:
    """Whether something moved since it was worked out. 1 query."""
    # The last one written, by its number: the book has no order of writing but that.
    last = Entry.objects.filter(shop=needs.run.shop_id).order_by("-pk").only("recorded_at").first()
    return last is not None and last.recorded_at > needs.run.made_at


def worked_out(
    shop: Shop,
    wanted: Mapping[int, int],
    *,
    today: date,
    nights: Sequence[Night] = (),
    scrap: Mapping[int, Scrap] | None = None,
    assumption: str = "",
    seconds: float = 3,
) -> NeedsRun:
    """The answer as a row that is not kept yet. 5 queries.

    Raises
    ------
    NeedsRefused
        When a wanted item is no item of the shop, or the recipes go in a circle.
    """
    asked = Asked(
        shop=shop,
        stock=on_hand(shop),
        recipes=recipes_in_use(shop),
        wanted=wanted,
        today=today,
        nights=nights,
        scrap=scrap or {},
        coming=expected(shop),
        assumption=assumption,
    )
    keys = Keys.of(asked)
    # Checked here: the engine would name a number that means nothing to a person.
    if not set(wanted) <= set(keys.by_item):
        raise NeedsRefused("A wanted set is no item of this shop.")
    try:
        problem = problem_of(asked, keys)
    except ValueError as error:
        raise NeedsRefused(f"The needs cannot be worked out: {error}.") from error
    return row_of(solve(problem, stop=Seconds(seconds)), keys, asked)
