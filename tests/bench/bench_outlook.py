"""Measures the outlook: time, memory, and against the event-by-event model.

``python -m tests.bench.bench_outlook`` prints what was measured beside the figure to reach.
"""

from __future__ import annotations

import resource
import statistics
import sys
import time
import tracemalloc

import numpy as np

from inventory.engines.stop import Seconds
from tests.bench import queues
from tests.bench.fine_winter import FineWinter, fates
from tests.workshops.season.engine.winters import whole_shop
from workshops.season.engine import learn, shop, winter
from workshops.season.engine.params import OutlookParams
from workshops.season.engine.shop import Shop
from workshops.season.engine.solve import solve
from workshops.season.engine.streams import Streams
from workshops.season.engine_pace import solve as pace

PARAMS = OutlookParams()
FINE_WINTERS = 300
RUNS = 5

Row = tuple[str, str, str]


def run() -> list[Row]:
    """What was measured, in words: what, measured, to reach."""
    return [*_own(), *_beside_the_fine_model(), _two_stations(), _pace()]


def _own() -> list[Row]:
    problem = whole_shop()
    seconds = statistics.median(_seconds(problem) for _ in range(RUNS))
    tracemalloc.start()
    solve(problem, stop=Seconds(600), params=PARAMS)
    peak = tracemalloc.get_traced_memory()[1] / 1e6
    tracemalloc.stop()
    whole = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e3
    what = f"outlook, {PARAMS.winters} winters x 25 nights x 9 operations, 45 people"
    return [
        (f"{what}, median of {RUNS}", f"{seconds:.2f} s", "1.5 s on one core"),
        ("outlook, peak of its own arrays", f"{peak:.0f} MB", "200 MB"),
        ("outlook, peak of the whole process", f"{whole:.0f} MB", "200 MB"),
    ]


def _seconds(problem: object) -> float:
    started = time.process_time()
    solve(problem, stop=Seconds(600), params=PARAMS)  # type: ignore[arg-type]
    return time.process_time() - started


def _beside_the_fine_model() -> list[Row]:
    problem = whole_shop()
    laid_out = shop.laid_out(problem, learn.beliefs_of(problem, PARAMS), PARAMS)
    started = time.process_time()
    winter.run(laid_out, Streams(7, 0, PARAMS.batch))
    per_winter = (time.process_time() - started) / PARAMS.batch
    coarse, fine, fine_per_winter = pair(laid_out, FINE_WINTERS)
    apart = (coarse - fine).astype(float)
    bias = apart.mean() / fine.mean()
    error = apart.std() / apart.size**0.5 / fine.mean()
    return [
        (
            "outlook, times faster than event by event",
            f"{fine_per_winter / per_winter:.0f} ({fine_per_winter * 1e3:.1f} ms a winter)",
            "80",
        ),
        (
            f"outlook, mean sets against event by event ({FINE_WINTERS} winters, same luck)",
            f"{bias:+.1%} (standard error {error:.1%})",
            "within 2 %",
        ),
    ]


def _pace() -> Row:
    problem = whole_shop()
    spent = []
    for _ in range(RUNS):
        started = time.process_time()
        pace.solve(problem, stop=Seconds(60))
        spent.append(time.process_time() - started)
    return (
        "pace, 25 nights x 9 operations, built and solved",
        f"{statistics.median(spent):.2f} s",
        "-",
    )


def _two_stations() -> Row:
    """The event-by-event model against Hunt's formula for two stations, equal rates."""
    apart = [
        abs(queues.two_stations(places, 1.0, pieces=60_000) * (places + 3) / (places + 2) - 1)
        for places in range(5)
    ]
    what = "event by event, two stations and 0 to 4 places, furthest from the formula"
    return what, f"{max(apart):.2%}", "within 1 %"


def pair(laid_out: Shop, winters: int) -> tuple[np.ndarray, np.ndarray, float]:
    """Sets at the end in both models on the same luck, and the fine one's seconds a winter."""
    streams = Streams(7, 0, winters)
    dice = np.random.default_rng(11)
    met = list(fates(laid_out, streams))
    started = time.process_time()
    fine = np.array([FineWinter(laid_out, fate, dice).run()[-1] for fate in met])
    seconds = (time.process_time() - started) / winters
    return winter.run(laid_out, streams).finished[-1], fine, seconds


if __name__ == "__main__":
    for row in run():
        sys.stdout.write(" | ".join(row) + "\n")
