"""``winter.json``: this winter and the last with their targets, and when the ice went."""

from __future__ import annotations

from inventory.materials.models import Item
from inventory.places.models import Shop
from workshops.home.demo.days import Days
from workshops.home.demo.files import Row, read
from workshops.season.models import IceOut, Target, Winter


def load_winters(shop: Shop, items: dict[str, Item], days: Days) -> Winter:
    """This winter; the last one stands beside it."""
    found = read("winter")
    _load_winter(shop, found["last_winter"], found["last_targets"], items=items, days=days)
    IceOut.objects.bulk_create(
        IceOut(shop=shop, water=water, went_on=days.years_ago(years, after))
        for water, afters in found["ice_out"]["days_after"].items()
        for years, after in enumerate(afters, start=1)
        if after is not None
    )
    return _load_winter(shop, found["winter"], found["targets"], items=items, days=days)


def _load_winter(
    shop: Shop, row: Row, targets: list[Row], *, items: dict[str, Item], days: Days
) -> Winter:
    starts_on, ends_on = days.week(row["starts_week"]), days.week(row["ends_week"])
    name = f"{starts_on.year}–{ends_on:%y}" if ends_on.year > starts_on.year else f"{ends_on.year}"
    winter = Winter.objects.create(
        shop=shop, name=name,
        starts_on=starts_on, ends_on=ends_on,
        ready_from=days.day(row["ready_from_day"]), ready_by=days.day(row["ready_by_day"]),
    )  # fmt: skip
    Target.objects.bulk_create(
        Target(
            winter=winter, item=items[target["set"]], new=target["new"],
            replacements=target["replacements"], spares=target["spares"],
        )
        for target in targets
    )  # fmt: skip
    return winter
