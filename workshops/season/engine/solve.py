"""The outlook's one public function."""

from __future__ import annotations

import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from itertools import islice

from inventory.engines.stop import Seconds
from workshops.season.engine import learn, shop, tell, winter
from workshops.season.engine.params import OutlookParams
from workshops.season.engine.plan import Outlook
from workshops.season.engine.problem import Problem
from workshops.season.engine.streams import Streams
from workshops.season.engine.winter import Tally

DEFAULTS = OutlookParams()


def solve(
    problem: Problem, *, stop: Seconds, seed: int = 7, params: OutlookParams = DEFAULTS
) -> Outlook:
    """What the rest of the winter is likely to bring.

    Parameters
    ----------
    problem
        Nights to come, people, operations, racks, history.
    stop
        No new batch of winters is begun after this many seconds; one always is computed.
    seed
        0 or more. The same problem, seed and ``params.batch`` give the same outlook, on any
        number of threads; a changed problem meets the same luck where it is the same.
    params
        Winters, priors, how the shop is run.

    Returns
    -------
    Outlook
        Bands of finished sets, chances, the slowest station; ``is_complete`` is false when the
        time was up early.

    Raises
    ------
    ValueError
        When ``seed`` is negative.

    Notes
    -----
    Monte Carlo over replicates of the winter. What is uncertain for the whole winter (how often
    a person comes, how fast an operation goes, scrap, lost nights) is drawn once a replicate
    from what the club's history leaves open; what changes from night to night is drawn each
    night. Pieces flow as fractions within a night and only whole sets are counted.
    """
    if seed < 0:
        raise ValueError(f"seed must be 0 or more, not {seed}")
    started = time.monotonic()
    laid_out = shop.laid_out(problem, learn.beliefs_of(problem, params), params)
    tallies: list[Tally] = []
    batches = iter(_batches(params, seed))
    with ThreadPoolExecutor(params.workers) as threads:
        while wave := list(islice(batches, params.workers)):
            tallies += threads.map(lambda streams: winter.run(laid_out, streams), wave)
            if time.monotonic() - started >= stop.seconds:
                break
    sizes = tuple(tally.reached.size for tally in tallies)
    return tell.told(laid_out, tallies, tell.Run(seed, sizes, time.monotonic() - started))


def _batches(params: OutlookParams, seed: int) -> Iterator[Streams]:
    for index, first in enumerate(range(0, params.winters, params.batch)):
        yield Streams(seed, index, min(params.batch, params.winters - first))
