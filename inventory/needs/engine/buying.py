"""The buy list: whole packs, and the day by which each line must be ordered."""

from __future__ import annotations

from datetime import date, timedelta

from inventory.needs.engine.explode import Exploded, explode, wanted_of
from inventory.needs.engine.plan import Buy
from inventory.needs.engine.problem import EVER, Item, NeedsProblem
from inventory.needs.engine.running_out import first_short, needs_by_night
from inventory.needs.engine.sticks import Steel


def buy_list(problem: NeedsProblem, steel: Steel) -> tuple[Buy, ...]:
    """What to buy for all that is wanted, expected scrap counted; the earliest order first.

    What is on order is not bought again, whenever it comes.
    """
    asked = explode(problem, wanted_of(problem), with_scrap=True, until=EVER)
    nights, dates = needs_by_night(problem), [night.date for night in problem.nights]
    made = {recipe.output for recipe in problem.recipes}
    lines = []
    for item in problem.items:
        if item.key in made:
            continue
        in_time = item.on(EVER)
        short, is_exact = _short(steel, in_time, asked)
        if short:
            night = first_short(steel, in_time, nights, dates)
            needed = None if night is None else problem.nights[night].day
            lines.append(_line(problem, item, needed, short=short, is_exact=is_exact))
    # dates as text sort by day; no date comes last
    return tuple(sorted(lines, key=lambda line: (line.order_by or "9", line.item)))


def _short(steel: Steel, item: Item, asked: Exploded) -> tuple[int, bool]:
    if item.is_cut_from_sticks:
        answer = steel.to_buy(item, asked.pieces_of(item.key))
        return answer.sticks, answer.is_exact
    # what is always kept is never planned with, so it is bought back as well
    below = max(0, item.keep_at_least - item.on_hand - item.on_rack)
    return asked.net[item.key] + below, True


def _line(
    problem: NeedsProblem, item: Item, needed: date | None, *, short: int, is_exact: bool
) -> Buy:
    packs = -(-short // item.pack)  # rounded up: half a bundle is not sold
    order_by = order_day(item, needed)
    last = None if item.last_order is None else date.fromisoformat(item.last_order)
    today = date.fromisoformat(problem.today)
    return Buy(
        item=item.key,
        supplier=item.supplier,
        short=short,
        packs=packs,
        quantity=packs * item.pack,
        needed_on=None if needed is None else needed.isoformat(),
        order_by=None if order_by is None else order_by.isoformat(),
        is_late=order_by is not None and order_by < today,
        is_one_chance=last is not None,
        is_gone=last is not None and last < today,
        is_exact=is_exact,
    )


def order_day(item: Item, needed: date | None) -> date | None:
    """The day needed less the lead time, never after the last day it can be had."""
    days = [] if needed is None else [needed - timedelta(days=item.lead_days)]
    if item.last_order is not None:
        days.append(date.fromisoformat(item.last_order))
    return min(days, default=None)
