"""What share of the pieces begun turns out bad at each step: the club's own, where it has one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from django.db.models import BigIntegerField, Case, F, Sum, When
from django.db.models.functions import Cast, Round

from inventory.ledger.models import Entry, Line
from inventory.materials.models import Item, Recipe
from inventory.places.models import Shop

THOUSANDTHS = 1000
ENOUGH = 50  # pieces of one kind, before their share says more than chance does
STATED_PER_MILLE = 20  # for every step the club has too few pieces of, unless somebody says else


@dataclass(frozen=True, slots=True)
class Scrap:
    """Of a thousand pieces begun, so many fail. ``is_own``: as the club's own tallies say."""

    per_mille: int
    begun: int
    spoiled: int
    is_own: bool


def scrap_of(
    shop: Shop,
    recipes: Mapping[int, Recipe],
    *,
    since: datetime | None = None,
    stated_per_mille: int = STATED_PER_MILLE,
) -> dict[int, Scrap]:
    """The share of each thing that is made here. 1 query; empty without recipes.

    Parameters
    ----------
    recipes
        Those in use, by what they make.
    since
        Older tallies are left out: jigs and people have changed since.
    stated_per_mille
        Used where fewer than ``ENOUGH`` were begun. Nothing is expected to fail when finished
        parts are put together into a complete set.
    """
    counts = _counts(shop, since)
    return {
        output: _share(recipe.output, counts.get(output, (0, 0)), stated_per_mille)
        for output, recipe in recipes.items()
    }


def _share(item: Item, counted: tuple[int, int], stated: int) -> Scrap:
    begun, spoiled = counted
    if begun >= ENOUGH:
        # Rounded up, and never all of them: one must come out good some day.
        return Scrap(min(999, -(-1000 * spoiled // begun)), begun, spoiled, is_own=True)
    return Scrap(0 if item.kind == Item.Kind.SET else stated, begun, spoiled, is_own=False)


def _counts(shop: Shop, since: datetime | None) -> dict[int, tuple[int, int]]:
    """Item -> pieces begun and pieces spoiled in the making. Tallies taken back do not count."""
    lines = Line.objects.filter(
        entry__shop=shop,
        entry__kind=Entry.Kind.MADE,
        entry__correction__isnull=True,
        account__in=(Line.Account.MADE, Line.Account.SCRAP),
    )
    if since is not None:
        lines = lines.filter(entry__at__gte=since)
    whole = Cast(Round(F("quantity") * THOUSANDTHS), BigIntegerField())
    made = Sum(Case(When(account=Line.Account.MADE, then=whole), default=0))
    bad = Sum(Case(When(account=Line.Account.SCRAP, then=whole), default=0))
    rows = lines.order_by().values_list("item").annotate(made=made, bad=bad)
    # What is made comes out of its account, so its count is negative; offcuts of metal stand
    # under the metal, which nobody makes.
    return {item: (-made // THOUSANDTHS, bad // THOUSANDTHS) for item, made, bad in rows}
