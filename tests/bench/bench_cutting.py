"""How fast and how sure cut lists of shop size are; the textbook sets; the brute-force check.

Run by ``python3 manage.py bench``; never part of the ordinary tests.
"""

from __future__ import annotations

import json
import random
from collections import Counter
from pathlib import Path
from statistics import median

from inventory.cutting.engine.baseline import best_fit_decreasing
from inventory.cutting.engine.model import reduce
from inventory.cutting.engine.plan import CutPlan
from inventory.cutting.engine.problem import CutProblem, Piece, Stick
from inventory.cutting.engine.solve import solve
from inventory.engines.stop import Seconds
from inventory.measures.lengths import inches
from tests.inventory.cutting.engine.brute import least_cost, tiny_problem

REFERENCE = Path(__file__).parents[2] / "fixtures" / "reference" / "cutting.json"
SHOP_SEEDS = range(20)
TINY_CASES = 500
TRIPLET_BINS = (20, 40, 83, 167)


def shop_problem(seed: int) -> CutProblem:
    """3-6 lengths, 300-1,200 pieces, sticks of three lengths, a few drops, quarter inches."""
    draw = random.Random(seed)
    lengths = draw.sample(range(12 * 4, 66 * 4), draw.randint(3, 6))
    wanted = draw.randint(300, 1200)
    shares = [draw.uniform(1, 4) for _ in lengths]
    pieces = tuple(
        Piece(f"part {k}", inches(n) // 4, max(1, round(wanted * share / sum(shares))))
        for k, (n, share) in enumerate(zip(lengths, shares, strict=True))
    )
    drops = tuple(
        Stick(f"drop {k}", inches(draw.randint(30, 110)), draw.randint(1, 6), is_drop=True)
        for k in range(draw.randint(2, 6))
    )
    bought = tuple(Stick(f"{feet} ft", inches(12 * feet)) for feet in (10, 20, 24))
    return CutProblem(
        pieces, (*bought, *drops), kerf=inches("1/8"), keep_length=inches(24), material="1 in tube"
    )


def bin_problem(raw: dict[str, object]) -> CutProblem:
    """A bin-packing instance as a cut list without kerf."""
    counts = Counter(raw["items"])  # type: ignore[call-overload]
    pieces = tuple(Piece(str(size), size, count) for size, count in counts.items())
    return CutProblem(pieces, (Stick("bin", raw["capacity"]),))  # type: ignore[arg-type]


def triplet_problem(bins: int, seed: int) -> CutProblem:
    """Bins of 1,000 filled to the brim by three pieces each: the hardest kind of the textbook.

    Made as E. Falkenauer describes (Journal of Heuristics 2 (1996) 5-30, *from memory*): the
    largest piece from 380 to 490, the next so that the third is at least 250.
    """
    draw, sizes = random.Random(seed), Counter[int]()
    for _ in range(bins):
        first = draw.randint(380, 490)
        second = draw.randint(250, (1000 - first) // 2)
        sizes.update((first, second, 1000 - first - second))
    pieces = tuple(Piece(str(size), size, count) for size, count in sorted(sizes.items()))
    return CutProblem(pieces, (Stick("bin", 1000),))


def run() -> list[tuple[str, str, str]]:
    """What was measured, the figure, the target."""
    return [*_shop(), *_textbook(), *_triplets(), _tiny()]


def _shop() -> list[tuple[str, str, str]]:
    plans = [solve(shop_problem(seed), Seconds(10)) for seed in SHOP_SEEDS]
    quick = [solve(shop_problem(seed), Seconds(2)) for seed in SHOP_SEEDS]
    many, size = len(plans), f"shop cut list, {len(plans)} instances"
    worse = sum(plan.cost > _by_hand(plan.problem) for plan in (*plans, *quick))
    return [
        (f"{size}: seconds, median", f"{median(plan.seconds for plan in plans):.2f}", "2"),
        (f"{size}: proven or within 0.1 %, seconds, median", _reached(quick), "2"),
        (f"{size}: proven in 10 s", f"{_proven(plans)}", "-"),
        (f"{size}: within 0.1 % in 10 s", f"{_near(plans)}", f"{many}"),
        (f"{size}: proven in 2 s", f"{_proven(quick)}", "-"),
        (f"{size}: within 0.1 % in 2 s", f"{_near(quick)}", f"{many // 2} (median)"),
        (f"{size}: worse than best-fit decreasing", f"{worse}", "0"),
        (f"{size}: stop settings saved, median", f"{median(map(_saved, plans)):.0%}", "20%"),
    ]


def _proven(plans: list[CutPlan]) -> int:
    return sum(plan.is_proven for plan in plans)


def _near(plans: list[CutPlan]) -> int:
    return sum(plan.gap <= 0.001 for plan in plans)


def _reached(quick: list[CutPlan]) -> str:
    """Median seconds to a plan proven or within 0.1 %; 9 for those not there in 2 s."""
    return f"{median(plan.seconds if plan.gap <= 0.001 else 9.0 for plan in quick):.2f}"


def _saved(plan: CutPlan) -> float:
    """Settings saved against setting the stop afresh for every length of every run."""
    return 1 - plan.stop_changes / sum(len(run.stops) for run in plan.runs)


def _by_hand(problem: CutProblem) -> int:
    figures = reduce(problem)
    return figures.total(best_fit_decreasing(figures))


def _textbook() -> list[tuple[str, str, str]]:
    sets = json.loads(REFERENCE.read_text())["bin_packing"]
    plans = {name: solve(bin_problem(raw), Seconds(20)) for name, raw in sets.items()}
    best = sum(plan.stick_count == sets[name]["best"] for name, plan in plans.items())
    seconds = median(plan.seconds for plan in plans.values())
    return [
        ("textbook bins: best / all", f"{best} / {len(plans)}", f"{len(plans)} / {len(plans)}"),
        ("textbook bins: seconds, median", f"{seconds:.2f}", "-"),
    ]


def _triplets() -> list[tuple[str, str, str]]:
    rows = []
    for bins in TRIPLET_BINS:
        plans = [solve(triplet_problem(bins, seed), Seconds(20)) for seed in range(3)]
        best = sum(plan.stick_count == bins and plan.is_proven for plan in plans)
        seconds = median(plan.seconds for plan in plans)
        name = f"triplets, {3 * bins} items, {len(plans)} instances"
        rows += [(f"{name}: best, proven", f"{best}", f"{len(plans)}")]
        rows += [(f"{name}: seconds, median", f"{seconds:.2f}", "-")]
    return rows


def _tiny() -> tuple[str, str, str]:
    wrong = 0
    for seed in range(TINY_CASES):
        problem = tiny_problem(random.Random(seed))
        plan = solve(problem)
        wrong += not (plan.is_proven and (plan.metal_missing, plan.cost) == least_cost(problem))
    return f"{TINY_CASES} tiny cut lists against brute force: wrong", str(wrong), "0"
