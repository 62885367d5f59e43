"""The public door of the needs engine."""

from __future__ import annotations

from inventory.cutting.engine.search import Clock
from inventory.engines.stop import Seconds
from inventory.needs.engine.buying import buy_list
from inventory.needs.engine.explode import Exploded, explode, wanted_of
from inventory.needs.engine.levels import levels
from inventory.needs.engine.params import NeedsParams
from inventory.needs.engine.plan import Need, NeedsPlan, PieceNeed
from inventory.needs.engine.possible import possible_alone, possible_mix
from inventory.needs.engine.problem import EVER, NeedsProblem
from inventory.needs.engine.running_out import runs_out
from inventory.needs.engine.sticks import Steel

DEFAULT_STOP = Seconds(5)
DEFAULT_PARAMS = NeedsParams()


def solve(
    problem: NeedsProblem,
    stop: Seconds = DEFAULT_STOP,
    seed: int = 7,
    params: NeedsParams = DEFAULT_PARAMS,
) -> NeedsPlan:
    """What the wanted sets take, what is possible now, what runs out first, what to buy.

    Parameters
    ----------
    problem
        Items, recipes, variants, nights; whole quantities, lengths in micrometres.
    stop
        Wall clock for the questions about sticks; the rest takes milliseconds.
    seed
        Handed to the cut lists, 0 or more.
    params
        Limits of the search.

    Returns
    -------
    NeedsPlan
        Needs and the buy list count expected scrap; sets possible now do not: they say what
        can be finished if nothing is spoiled. Numbers without steel are exact; those with
        steel say so themselves when a cut list could not be decided in the time.
    """
    clock = Clock(stop)
    # shared by all questions: the same pieces are asked about again and again
    steel = Steel(clock, params, seed)
    net = explode(problem, wanted_of(problem), with_scrap=True, until=EVER)
    gross = explode(problem, wanted_of(problem), with_scrap=True, uses_stock=False)
    return NeedsPlan(
        problem=problem,
        needs=_needs(problem, gross, net),
        pieces=_pieces(gross, net),
        possible=tuple(possible_alone(problem, steel, v) for v in problem.variants),
        mix=possible_mix(problem, steel),
        runs_out=runs_out(problem, steel),
        buy=buy_list(problem, steel),
        seconds=clock.spent(),
    )


def _needs(problem: NeedsProblem, gross: Exploded, net: Exploded) -> tuple[Need, ...]:
    """One line for each item that is counted in pieces, top level first."""
    level, made = levels(problem.made_from()), {recipe.output for recipe in problem.recipes}
    lines = [
        Need(
            item=item.key,
            level=level.get(item.key, 0),
            gross=gross.required[item.key],
            required=net.required[item.key],
            there=item.there,
            net=net.net[item.key],
            started=net.started[item.key],
            is_bought=item.key not in made,
            on_order=item.there_on(EVER) - item.there,
        )
        for item in problem.items
        if not item.is_cut_from_sticks
    ]
    return tuple(sorted(lines, key=lambda line: line.level))


def _pieces(gross: Exploded, net: Exploded) -> tuple[PieceNeed, ...]:
    return tuple(
        PieceNeed(material, length, count, net.pieces.get((material, length), 0))
        for (material, length), count in sorted(gross.pieces.items())
    )
