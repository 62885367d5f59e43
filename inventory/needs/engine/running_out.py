"""What does not last: after how many sets, and on which night. Expected scrap is counted.

Sets are counted from what is here. Nights count what is on order from the day it comes.
"""

from __future__ import annotations

from inventory.needs.engine.explode import Exploded, explode, to_start, wanted_of
from inventory.needs.engine.plan import RunsOut
from inventory.needs.engine.possible import finished_of, largest, mix_of, mix_order
from inventory.needs.engine.problem import EVER, Item, NeedsProblem
from inventory.needs.engine.sticks import Steel


def runs_out(problem: NeedsProblem, steel: Steel) -> tuple[RunsOut, ...]:
    """The bought items that do not last for all that is wanted, the first to go first."""
    order, nights = mix_order(problem), needs_by_night(problem)
    dates = [night.date for night in problem.nights]
    # an item that lasts for everything is looked at once and no more
    whole = explode(problem, wanted_of(problem), with_scrap=True)
    with_orders = explode(problem, wanted_of(problem), with_scrap=True, until=EVER)
    made = {recipe.output for recipe in problem.recipes}
    found = []
    for item in problem.items:
        if item.key in made or lasts(steel, item, whole):
            continue

        def holds(sets: int, item: Item = item) -> bool:
            wanted = mix_of(problem, order, sets)
            return lasts(steel, item, explode(problem, wanted, with_scrap=True))

        after = largest(holds, len(order))
        night = first_short(steel, item, nights, dates)
        is_covered = night is None and lasts(steel, item.on(EVER), with_orders)
        date = None if night is None else dates[night]
        found.append(RunsOut(item.key, after, night, date, is_covered))
    return tuple(sorted(found, key=_soonest))


def _soonest(line: RunsOut) -> tuple[bool, str, int, str]:
    # a night is nearer to the truth than a number of sets: steel goes before the sets it is for
    return line.is_covered, line.on_night or "9", line.after_sets, line.item


def lasts(steel: Steel, item: Item, asked: Exploded) -> bool:
    """Whether there is enough of the item for what is asked."""
    if item.is_cut_from_sticks:
        return steel.fits(item, asked.pieces_of(item.key)).sticks == 0
    return asked.required.get(item.key, 0) <= item.there


def first_short(steel: Steel, item: Item, nights: list[Exploded], dates: list[str]) -> int | None:
    """The first night whose needs, with all before, are more than there is by then."""
    if any(order.date is not None for order in item.orders):
        # short on one night and well again on the next: looked at night after night
        short = (n for n, day in enumerate(dates) if not lasts(steel, item.on(day), nights[n]))
        return next(short, None)
    # needs only grow from night to night, so the first short night is found by halving
    good = largest(lambda n: n == 0 or lasts(steel, item, nights[n - 1]), len(nights))
    return good if good < len(nights) else None


def needs_by_night(problem: NeedsProblem) -> list[Exploded]:
    """What all work up to and including each night takes."""
    if any(night.pieces for night in problem.nights):
        return _by_pieces(problem)
    # the pace counts from the sets that are finished today
    order, sets = mix_order(problem), sum(finished_of(problem).values())
    found = []
    for night in problem.nights:
        sets += night.sets
        wanted_by_then = mix_of(problem, order, sets)
        found.append(explode(problem, wanted_by_then, with_scrap=True, until=night.date))
    return found


def _by_pieces(problem: NeedsProblem) -> list[Exploded]:
    """Each planned piece takes what its own recipe takes; parts in between are on the racks."""
    wanted = explode(problem, wanted_of(problem), with_scrap=True).net
    done: dict[str, int] = {}
    found = []
    for night in problem.nights:
        for key, count in (night.pieces or {}).items():
            # a pace may cut more than the winter wants: nothing is bought for that
            done[key] = min(done.get(key, 0) + count, wanted[key])
        found.append(_taken(problem, done))
    return found


def _taken(problem: NeedsProblem, done: dict[str, int]) -> Exploded:
    taken = Exploded()
    for recipe in problem.recipes:
        goes = to_start(recipe, done.get(recipe.output, 0), with_scrap=True) // recipe.makes
        for part in recipe.inputs:
            if part.length is None:
                asked = taken.required.get(part.item, 0)
                taken.required[part.item] = asked + goes * part.quantity
            else:
                key = (part.item, part.length)
                taken.pieces[key] = taken.pieces.get(key, 0) + goes * part.quantity
    return taken
