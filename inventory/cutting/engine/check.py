"""The recount of a cut list, from the pieces up; it shares nothing with the search.

A list goes to people at a saw. So what the search believes is not asked: pieces are counted,
sticks are counted, and every cut is laid along its stick and measured.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from inventory.cutting.engine.problem import CutProblem, Stick

if TYPE_CHECKING:
    from inventory.cutting.engine.plan import CutPlan, Run


def breaches(plan: CutPlan) -> tuple[str, ...]:
    """What is wrong with the plan, in words; empty when it is legal."""
    wrong = _count_breaches(plan) + _stick_breaches(plan)
    for run in plan.runs:
        wrong += _run_breaches(plan.problem, run)
    # a cost recounted from broken runs would only repeat what is wrong with them
    if not wrong and plan.cost != _recount(plan):
        wrong.append(f"the cost is {_recount(plan)}, not {plan.cost}")
    if plan.bound > plan.cost:
        wrong.append(f"the bound {plan.bound} is above the cost {plan.cost}")
    return tuple(wrong)


def _count_breaches(plan: CutPlan) -> list[str]:
    """Each piece is cut or missing as often as it is wanted."""
    wrong, made = [], plan.made
    missing: Counter[str] = Counter()
    for part in plan.missing:
        missing[part.piece] += part.count
    for piece in plan.problem.pieces:
        got = made[piece.label] + missing[piece.label]
        if got != piece.count:
            wrong.append(f"{piece.label}: {piece.count} wanted, {got} cut or missing")
    known = {piece.label for piece in plan.problem.pieces}
    wrong += [f"{label} is no piece of this list" for label in {*made, *missing} - known]
    return wrong


def _stick_breaches(plan: CutPlan) -> list[str]:
    """No more sticks are taken than there are."""
    sticks = {stick.label: stick for stick in plan.problem.sticks}
    wrong = []
    for label, out in plan.sticks_out.items():
        stick = sticks.get(label)
        if stick is None:
            wrong.append(f"{label} is no stick of this list")
        elif stick.count is not None and out > stick.count:
            wrong.append(f"{label}: {out} taken, {stick.count} there")
    return wrong


def _run_breaches(problem: CutProblem, run: Run) -> list[str]:
    """The cuts lie one behind the other with a kerf between, inside the trimmed stick."""
    stick = _stick(problem, run.stick)
    if stick is None:
        return []
    lengths = {piece.label: piece.length for piece in problem.pieces}
    wrong, free = [], problem.start(stick)
    for cut in run.cuts:
        if cut.start != free or cut.length != lengths.get(cut.piece):
            wrong.append(f"{run.stick}: {cut.piece} at {cut.start} does not fit its mark")
        free = cut.end + problem.kerf
    if run.times < 1 or not run.cuts:
        wrong.append(f"{run.stick}: a run without a cut")
    elif run.cuts[-1].end > stick.length - problem.trim:
        wrong.append(f"{run.stick}: the last piece runs over the end")
    left = problem.left_over(stick, free - problem.start(stick))
    if run.stick_length != stick.length or run.left_over != left:
        wrong.append(f"{run.stick}: {left} is left over, not {run.left_over}")
    if run.is_kept != problem.is_kept(left):
        wrong.append(f"{run.stick}: kept and thrown away confused")
    return wrong


def _recount(plan: CutPlan) -> int:
    total = 0
    for run in plan.runs:
        stick = _stick(plan.problem, run.stick)
        if stick is not None:
            worth = plan.problem.worth_of(stick, run.left_over)
            total += run.times * (plan.problem.cost_of(stick) - worth)
    return total


def _stick(problem: CutProblem, label: str) -> Stick | None:
    return next((stick for stick in problem.sticks if stick.label == label), None)
