"""The recount of a needs plan: other arithmetic than the explosion that made it.

Needs are checked line against line; sets possible now by taking every part off a heap, one set
after the other, the way a person at the bench would.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

from inventory.needs.engine.problem import NeedsProblem, Recipe

if TYPE_CHECKING:
    from inventory.needs.engine.plan import Buy, NeedsPlan, Possible


def breaches(plan: NeedsPlan) -> tuple[str, ...]:
    """What does not add up, in words."""
    wrong = _need_breaches(plan) + _possible_breaches(plan)
    for line in plan.buy:
        wrong += _buy_breaches(plan.problem, line)
    bought = {line.item for line in plan.buy}
    wrong += [
        f"{need.item} is short but not on the buy list"
        for need in plan.needs
        if need.is_bought and need.net and need.item not in bought
    ]
    return tuple(wrong)


def _need_breaches(plan: NeedsPlan) -> list[str]:
    """What each item is asked for is what its users start, and net is what is not there."""
    asked = {need.item: 0 for need in plan.needs}
    for variant in plan.problem.variants:
        asked[variant.item] = asked.get(variant.item, 0) + variant.wanted
    for recipe in plan.problem.recipes:
        # from the plan's own line, so that a wrong one is found where it is used
        goes = plan.need(recipe.output).started // recipe.makes
        for part in recipe.inputs:
            if part.length is None:
                asked[part.item] += goes * part.quantity
    wrong = []
    for need in plan.needs:
        if need.required != asked[need.item]:
            wrong.append(f"{need.item}: {asked[need.item]} asked for, not {need.required}")
        if (
            need.net != max(0, need.required - need.there - need.on_order)
            or need.started < need.net
        ):
            wrong.append(f"{need.item}: net {need.net} does not follow from what is there")
    return wrong


def _possible_breaches(plan: NeedsPlan) -> list[str]:
    wrong = []
    for line in (*plan.possible, plan.mix):
        if sum(line.parts.values()) != line.sets:
            wrong.append(f"{line.variant or 'the mix'}: the parts are not {line.sets} sets")
        short = _heap_short(plan.problem, line)
        if short:
            wrong.append(f"{line.variant or 'the mix'}: {short} does not suffice")
    return wrong


def _heap_short(problem: NeedsProblem, line: Possible) -> str:
    """Take the sets off the heap; the first item that is not there, or nothing."""
    heap = {item.key: item.there for item in problem.items}
    recipes = {recipe.output: recipe for recipe in problem.recipes}
    for key, count in line.parts.items():
        short = _take(heap, recipes, key, count)
        if short:
            return short
    return ""


def _take(heap: dict[str, int], recipes: dict[str, Recipe], key: str, count: int) -> str:
    used = min(heap[key], count)
    heap[key] -= used
    owed = count - used
    if not owed:
        return ""
    if key not in recipes:
        return key
    goes = -(-owed // recipes[key].makes)
    heap[key] += goes * recipes[key].makes - owed  # what a whole go makes too many
    for part in recipes[key].inputs:
        if part.length is None:
            short = _take(heap, recipes, part.item, goes * part.quantity)
            if short:
                return short
    return ""


def _buy_breaches(problem: NeedsProblem, line: Buy) -> list[str]:
    item, wrong = problem.item(line.item), []
    if line.quantity != line.packs * item.pack or not 0 <= line.quantity - line.short < item.pack:
        wrong.append(f"{line.item}: {line.quantity} is not the fewest whole packs")
    days = [item.last_order] if item.last_order else []
    if line.needed_on:
        day = date.fromisoformat(line.needed_on) - timedelta(days=item.lead_days)
        days.append(day.isoformat())
    if line.order_by != min(days, default=None):
        wrong.append(f"{line.item}: the order-by day does not follow from lead time and need")
    if line.is_late != (line.order_by is not None and line.order_by < problem.today):
        wrong.append(f"{line.item}: late or not is wrong")
    return wrong
