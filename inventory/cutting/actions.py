"""Making a cut list, keeping it, ticking it off, and working its rest out anew."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from django.contrib.auth.base_user import AbstractBaseUser
from django.db import transaction

from inventory.cutting.ahead import Wanted, sentences, sort_out
from inventory.cutting.engine.solve import solve
from inventory.cutting.models import CutListRun
from inventory.cutting.progress import still_missing
from inventory.cutting.ticking import CutRefused, Done, Unlike, cut, cut_unlike, take_back
from inventory.cutting.translate import problem_of, row_of
from inventory.engines.stop import Seconds
from inventory.ledger.actions import lock_book
from inventory.ledger.queries import pieces_of
from inventory.materials.models import Item
from inventory.places.models import Shop

__all__ = [
    "Asked",
    "CutListRefused",
    "CutRefused",
    "Done",
    "NothingToCut",
    "Unlike",
    "Wanted",
    "carry_on",
    "cut",
    "cut_unlike",
    "make_cut_list",
    "take_back",
]

SEED = 7


class CutListRefused(ValueError):
    """A cut list that cannot even be asked for; the sentence says what to give."""


class NothingToCut(CutListRefused):
    """Every piece that is wanted lies there cut to length."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """How a list is to be worked out.

    ``kerf_um`` is what one cut takes, 0 at the shear, ``None`` as the item says;
    ``takes_ready`` counts pieces that lie cut to length; ``replaces`` are the lists whose
    place it takes.
    """

    night_key: str = ""
    per_set: Mapping[str, int] = field(default_factory=dict)
    seconds: float = 5
    kerf_um: int | None = None
    takes_ready: bool = True
    replaces: Sequence[CutListRun] = ()


def make_cut_list(
    *,
    shop: Shop,
    item: Item,
    pieces: Sequence[Wanted],
    by: AbstractBaseUser | None,
    night_key: str = "",
    asked: Asked | None = None,
) -> CutListRun:
    """Cut the pieces, given as (name, micrometres, count), from what lies in the rack.

    Pieces that cannot be cut are named in the result, with the metal that is missing;
    nothing moves in the book until sticks are ticked or pieces are tallied.

    Raises
    ------
    CutListRefused
        When the item is not cut by length, no piece is wanted, or (``NothingToCut``) all lie
        there cut to length.
    """
    asked = asked or Asked(night_key=night_key)
    if item.shop_id != shop.pk or not item.is_by_length:
        raise CutListRefused(f"{item} is not cut from by length.")
    run = _worked_out(item, pieces, by=by, asked=asked)
    _keep(run, asked.replaces)
    return run


def carry_on(run: CutListRun, *, by: AbstractBaseUser | None, seconds: float = 5) -> CutListRun:
    """Work out the rest of a list anew: the pieces still missing from what lies there now.

    The old list stays as it was, with its ticks; it can be ticked no further.

    Raises
    ------
    CutListRefused
        When nothing is missing, or the rest was worked out before.
    """
    missing = still_missing(run)
    if not missing:
        raise CutListRefused("Every piece of this list is cut.")
    if run.replaced_by_id:
        raise CutListRefused("The rest of this list was worked out before: go on with that list.")
    shares = {piece["label"]: piece["per_set"] for piece in run.problem["pieces"]}
    asked = Asked(
        night_key=run.night_key,
        per_set=shares,
        seconds=seconds,
        kerf_um=run.problem["kerf"],
        # What lies there cut to length was cut by this list, or set aside when it was made.
        takes_ready=False,
        replaces=[run],
    )
    fresh = _worked_out(run.item, missing, by=by, asked=asked)
    with transaction.atomic():
        _keep(fresh, asked.replaces)
        # Asked again with the shop locked: a stick may have been ticked during the search.
        if still_missing(run) != missing:
            raise CutListRefused("Somebody ticked sticks meanwhile: work the rest out once more.")
    return fresh


def _worked_out(
    item: Item, pieces: Sequence[Wanted], *, by: AbstractBaseUser | None, asked: Asked
) -> CutListRun:
    """The list as an unsaved row; takes its time and locks nothing."""
    wanted = [piece for piece in pieces if piece[2]]
    if not wanted:
        raise CutListRefused("Say how many of at least one piece are wanted.")
    sorted_out = sort_out(item, wanted, pieces_of(item), takes_ready=asked.takes_ready)
    if not sorted_out.pieces:
        raise NothingToCut(" ".join(sentences(sorted_out.ready, item.shop.length_units)))
    try:
        problem = problem_of(
            item, sorted_out.pieces, sorted_out.rack,
            per_set=asked.per_set, kerf_um=asked.kerf_um,
        )  # fmt: skip
    except ValueError as error:
        raise CutListRefused(f"{item}: {error}.") from error
    # An impossible list is kept as well: it says what to buy.
    # Always one seed: who asks twice for one list is given the same list twice.
    plan = solve(problem, stop=Seconds(asked.seconds), seed=SEED)
    run = row_of(plan, item, SEED, ready=sorted_out.ready)
    run.made_by_id = by.pk if by else None
    run.night_key = asked.night_key
    return run


@transaction.atomic
def _keep(run: CutListRun, replaces: Iterable[CutListRun]) -> None:
    """Save the list, and say on those before it that it took their place."""
    lock_book(run.shop)
    old = {one.pk: one for one in replaces}
    current = CutListRun.objects.filter(pk__in=old, replaced_by=None)
    # Worked out without a lock, which would keep the whole shop waiting: so look again.
    if len(current) < len(old):
        raise CutListRefused("Somebody worked the rest out meanwhile: go on with that list.")
    run.save()
    current.update(replaced_by=run)
