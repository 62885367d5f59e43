"""Making a cut list and keeping it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from django.contrib.auth.base_user import AbstractBaseUser

from inventory.cutting.engine.solve import solve
from inventory.cutting.models import CutListRun
from inventory.cutting.translate import Wanted, problem_of, row_of
from inventory.engines.stop import Seconds
from inventory.ledger.queries import pieces_of
from inventory.materials.models import Item
from inventory.places.models import Shop

SEED = 7


class CutListRefused(ValueError):
    """A cut list that cannot even be asked for; the sentence says what to give."""


def make_cut_list(
    *,
    shop: Shop,
    item: Item,
    pieces: Sequence[Wanted],
    by: AbstractBaseUser | None,
    night_key: str = "",
    per_set: Mapping[str, int] | None = None,
    seconds: float = 5,
) -> CutListRun:
    """Cut the pieces, given as (name, micrometres, count), from what lies in the rack.

    Pieces that cannot be cut are named in the result, with the metal that is missing;
    nothing moves in the book until the pieces are tallied.

    Raises
    ------
    CutListRefused
        When the item is not cut by length, or no piece is wanted.
    """
    if item.shop_id != shop.pk or not item.is_by_length:
        raise CutListRefused(f"{item} is not cut from by length.")
    wanted = [piece for piece in pieces if piece[2]]
    if not wanted:
        raise CutListRefused("Say how many of at least one piece are wanted.")
    try:
        problem = problem_of(item, wanted, pieces_of(item), per_set=per_set)
    except ValueError as error:
        raise CutListRefused(f"{item}: {error}.") from error
    # An impossible list is kept as well: it says what to buy.
    # Always one seed: who asks twice for one list is given the same list twice.
    run = row_of(solve(problem, stop=Seconds(seconds), seed=SEED), item, SEED)
    run.made_by_id = by.pk if by else None
    run.night_key = night_key
    run.save()
    return run
