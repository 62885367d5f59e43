"""Winters, their targets, and the outlook."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from django.db import transaction

from inventory.engines.models import ENGINE_VERSION, EngineRun
from inventory.engines.stop import Seconds
from inventory.materials.models import Item
from inventory.places.models import Shop
from workshops.access.models import User
from workshops.nights.actions import set_aims
from workshops.season import loading
from workshops.season.engine import problem as engine
from workshops.season.engine.params import OutlookParams
from workshops.season.engine.solve import solve
from workshops.season.models import IceOut, OutlookRun, Target, Winter
from workshops.season.queries import progress_of
from workshops.season.refusals import WinterRefused

SECONDS = 30.0  # ten thousand winters of a club take two; this stops a runaway


@dataclass(frozen=True, slots=True)
class Wanted:
    """How many of one set the winter wants, by reason."""

    new: int = 0
    replacements: int = 0
    spares: int = 0


@transaction.atomic
def add_winter(
    *, shop: Shop, name: str, starts_on: date, ends_on: date, ready_from: date, ready_by: date
) -> Winter:
    """Begin a winter.

    Raises
    ------
    WinterRefused
        When the name is taken or the dates are out of order.
    """
    if Winter.objects.filter(shop=shop, name=name).exists():
        raise WinterRefused(f"There is already a winter called {name}.")
    if not starts_on < ends_on or not starts_on <= ready_from <= ready_by:
        raise WinterRefused(
            "The winter starts before it ends, and the ready-by band runs from its early to "
            "its late day."
        )
    return Winter.objects.create(
        shop=shop, name=name, starts_on=starts_on, ends_on=ends_on,
        ready_from=ready_from, ready_by=ready_by,
    )  # fmt: skip


@transaction.atomic
def set_target(*, winter: Winter, item: Item, wanted: Wanted) -> Target:
    """Say how many of one set the winter wants; the placing is priced by it at once.

    Raises
    ------
    WinterRefused
        When the item is no complete set of this shop.
    """
    if item.kind != Item.Kind.SET or item.shop_id != winter.shop_id:
        raise WinterRefused(f"{item} is not one of this shop's complete sets.")
    target, _ = Target.objects.update_or_create(
        winter=winter, item=item,
        defaults={
            "new": wanted.new, "replacements": wanted.replacements, "spares": wanted.spares
        },
    )  # fmt: skip
    publish_aims(winter=winter)
    return target


@transaction.atomic
def publish_aims(*, winter: Winter) -> Mapping[int, int]:
    """Tell the placing what is still wanted of each set: the target less what is made."""
    wanted = {row.item.pk: row.left for row in progress_of(winter).kinds}
    set_aims(shop=winter.shop, wanted=wanted)
    return wanted


@transaction.atomic
def note_ice_out(*, shop: Shop, water: str, went_on: date) -> IceOut:
    """Note when the ice went, one year, on one water; the same twice is noted once."""
    row, _ = IceOut.objects.get_or_create(shop=shop, water=water.strip(), went_on=went_on)
    return row


def work_out_outlook(
    *, winter: Winter, today: date, by: User | None, seed: int = 7, winters: int = 10_000
) -> OutlookRun:
    """Draw the rest of the winter ten thousand times, keep and give the outlook.

    Raises
    ------
    WinterRefused
        When there is no target, nothing makes what it wants, or no night is to come.
    """
    problem = loading.problem_of(winter, today)
    if not progress_of(winter).wanted:
        raise WinterRefused("Set the target first: how many of each set the winter wants.")
    if not problem.variants:
        raise WinterRefused(
            "No operation in use makes the sets of the target. Set up their build sheets first."
        )
    if not problem.nights:
        raise WinterRefused("No night is planned any more. Put the nights on the calendar first.")
    params = OutlookParams(winters=winters)
    outlook = solve(problem, stop=Seconds(SECONDS), seed=seed, params=params)
    publish_aims(winter=winter)
    return OutlookRun.objects.create(
        shop=winter.shop, winter=winter, made_by=by, seed=seed, version=ENGINE_VERSION,
        problem=engine.to_json(problem), params={"winters": winters}, result=outlook.to_json(),
        objective=outlook.at_end.mean, seconds=outlook.seconds,
        status=EngineRun.Status.FOUND,
    )  # fmt: skip
