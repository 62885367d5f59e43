"""A batch of winters, night after night, all replicates at once."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from workshops.season.engine import policy, trials
from workshops.season.engine.curves import Beta
from workshops.season.engine.policy import ROUNDING, Desk
from workshops.season.engine.problem import Answer, Person
from workshops.season.engine.shop import Shop, Tonight
from workshops.season.engine.streams import Step, Streams
from workshops.season.engine.trials import Bools, Floats

Counts = NDArray[np.int32]


@dataclass(slots=True)
class Tally:
    """What a batch saw. Sums run over its winters; ``finished`` and ``ends`` keep each one."""

    finished: Counts  # nights x winters: sets at the end of the night
    ends: Counts  # variants x winters: sets after the last night
    reached: NDArray[np.int16]  # winters: first night with the target, nights where never
    held: NDArray[np.int64]  # nights
    people: NDArray[np.float64]  # nights
    pieces: NDArray[np.float64]  # nights x operations, good ones
    slowest: NDArray[np.int64]  # nights x stations
    short: NDArray[np.int64]  # items


@dataclass(slots=True)
class Luck:
    """What is drawn once and holds for a whole winter."""

    comes: dict[tuple[str, str], Floats]  # person, answer: chance of coming
    lost: Floats
    rate: Floats  # jobs
    good: Floats  # jobs
    late: list[Bools]  # arrivals


def run(shop: Shop, streams: Streams) -> Tally:
    """Simulate ``streams.size`` winters from tonight to the last night."""
    luck = _luck(shop, streams)
    desk = _first_desk(shop, luck, streams.size)
    tally = _empty(shop, streams.size)
    short = np.zeros((len(shop.problem.items), streams.size), dtype=np.bool_)
    before = ""
    for index, tonight in enumerate(shop.nights):
        _deliver(shop, luck, desk, after=before, until=tonight.night.date)
        before = tonight.night.date
        # Drawn before anybody comes, so that turnout on other nights never depends on it.
        held = ~_lost(tonight, luck, streams)
        people = _arrive(shop, tonight, luck, streams, held)
        _one_night(shop, tonight, desk, streams, people=people, luck=luck, tally=tally, at=index)
        tally.held[index] = held.sum()
        tally.people[index] = people.sum(dtype=np.float64)
        _note_slowest(shop, desk, tally, index, held)
        _note_short(shop, tonight, desk, short)
        _gather_sets(shop, desk)
        _note_finished(shop, desk, tally, index)
    # The desk holds the last night's state: what is on it now is how the winter ended.
    tally.ends[:] = desk.racks[len(shop.problem.items) :]
    tally.short[:] = short.sum(axis=1)
    return tally


def _luck(shop: Shop, streams: Streams) -> Luck:
    size, beliefs = streams.size, shop.beliefs
    rates = [
        trials.draw_rate(
            streams.of(Step.RATE, job.id), beliefs.rates[job.id].pieces_per_minute, size
        )
        for job in shop.jobs
    ]
    scraps = [
        trials.draw_share(streams.of(Step.SCRAP, job.id), beliefs.rates[job.id].scrap, size)
        for job in shop.jobs
    ]
    return Luck(
        comes={},
        lost=trials.draw_share(streams.of(Step.LOST_SHARE), beliefs.lost, size),
        rate=np.maximum(_rows(rates, size), np.float32(1e-6)),
        good=1 - _rows(scraps, size),
        late=[
            trials.draw_happens(
                streams.of(Step.LATE, arrival.item, arrival.date), arrival.chance_late, size
            )
            for arrival in shop.problem.arrivals
        ],
    )


def _rows(arrays: list[Floats], size: int) -> Floats:
    return np.array(arrays, dtype=np.float32).reshape(len(arrays), size)


def _first_desk(shop: Shop, luck: Luck, size: int) -> Desk:
    problem, jobs = shop.problem, len(shop.jobs)
    start = [item.on_hand for item in problem.items]
    start += [variant.finished for variant in problem.variants]
    racks = np.repeat(np.array(start, dtype=np.float32)[:, None], size, axis=1)
    made = np.array([job.made for job in shop.jobs], dtype=np.float32)
    return Desk(
        free=np.zeros((len(shop.crews), size), dtype=np.float32),
        bench=np.zeros((len(problem.stations), size), dtype=np.float32),
        racks=racks,
        made=np.zeros((jobs, size), dtype=np.float32),
        rate=luck.rate.copy(),
        good=luck.good,
        total=np.repeat(made[:, None], size, axis=1),
        unmet=np.zeros((jobs, size), dtype=np.float32),
        beside=np.zeros((jobs, size), dtype=np.float32),
        watched=np.zeros(size, dtype=np.bool_),
    )


def _empty(shop: Shop, size: int) -> Tally:
    nights, problem = len(shop.nights), shop.problem
    return Tally(
        finished=np.zeros((nights, size), dtype=np.int32),
        ends=np.zeros((len(problem.variants), size), dtype=np.int32),
        reached=np.full(size, nights, dtype=np.int16),
        held=np.zeros(nights, dtype=np.int64),
        people=np.zeros(nights, dtype=np.float64),
        pieces=np.zeros((nights, len(shop.jobs)), dtype=np.float64),
        slowest=np.zeros((nights, len(problem.stations)), dtype=np.int64),
        short=np.zeros(len(problem.items), dtype=np.int64),
    )


def _deliver(shop: Shop, luck: Luck, desk: Desk, *, after: str, until: str) -> None:
    """Bring in what arrived after one night and up to the next, late or on its day."""
    places = {item.id: place for place, item in enumerate(shop.problem.items)}
    for arrival, late in zip(shop.problem.arrivals, luck.late, strict=True):
        row = desk.racks[places[arrival.item]]
        if after < arrival.date <= until:
            row += np.float32(arrival.quantity) * ~late
        day = date.fromisoformat(arrival.date) + timedelta(days=arrival.late_days)
        if after < day.isoformat() <= until:
            row += np.float32(arrival.quantity) * late


def _lost(tonight: Tonight, luck: Luck, streams: Streams) -> Bools:
    known = tonight.night.chance_lost
    stream = streams.of(Step.LOST, tonight.night.date)
    return trials.draw_happens(stream, luck.lost if known is None else known, streams.size)


def _arrive(shop: Shop, tonight: Tonight, luck: Luck, streams: Streams, held: Bools) -> Floats:
    """People who came, crews x winters; nobody comes to a lost night."""
    day, size = tonight.night.date, streams.size
    mood = trials.draw_swing(streams.of(Step.MOOD, day), shop.beliefs.turnout_spread, size)
    people = np.zeros((len(shop.crews), size), dtype=np.float32)
    for row, crew in zip(people, shop.crews, strict=True):
        for person in crew.members:
            chance = _chance_of_coming(shop, person, day, luck, streams)
            row += trials.draw_happens(streams.of(Step.COMES, person.id, day), chance * mood, size)
    people *= held
    return people


def _chance_of_coming(shop: Shop, person: Person, day: str, luck: Luck, streams: Streams) -> Floats:
    """The person's chance in each winter, drawn at the first night that asks for it."""
    answer = person.answers.get(day, Answer.MAYBE)
    key = (person.id, answer.value)
    if key not in luck.comes:
        turnout = shop.beliefs.turnout[person.id]
        belief: Beta = {Answer.YES: turnout.after_yes, Answer.NO: turnout.after_no}.get(
            answer, turnout.unasked
        )
        luck.comes[key] = trials.draw_share(streams.of(Step.TURNOUT, *key), belief, streams.size)
    return luck.comes[key]


def _one_night(
    shop: Shop,
    tonight: Tonight,
    desk: Desk,
    streams: Streams,
    *,
    people: Floats,
    luck: Luck,
    tally: Tally,
    at: int,
) -> None:
    _set_rates(shop, tonight, desk, luck, streams)
    desk.unmet[:] = 0.0
    desk.watched = np.zeros(streams.size, dtype=np.bool_)
    total = desk.total.copy()
    benches = np.array([s.benches for s in shop.problem.stations], dtype=np.float32)
    for part in tonight.parts:
        desk.free[:] = people
        desk.bench[:] = benches[:, None]
        policy.work(shop, tonight, part, desk)
    tally.pieces[at] = ((desk.total - total) * desk.good).sum(axis=1, dtype=np.float64)


def _set_rates(shop: Shop, tonight: Tonight, desk: Desk, luck: Luck, streams: Streams) -> None:
    """Tonight's rate: the winter's, the night's swing, and what has been learned by doing."""
    cap = np.float32(shop.params.learning_cap)
    for job in tonight.jobs:
        stream = streams.of(Step.NIGHT_RATE, job.id, tonight.night.date)
        swing = trials.draw_swing(stream, shop.beliefs.rates[job.id].spread, streams.size)
        desk.rate[job.index] = luck.rate[job.index] * swing
        if job.exponent:
            ratio = (desk.total[job.index] + 1) / np.float32(job.reference + 1)
            learned = np.minimum(ratio ** np.float32(-job.exponent), cap)
            desk.rate[job.index] *= learned


def _note_slowest(shop: Shop, desk: Desk, tally: Tally, index: int, held: Bools) -> None:
    """On held nights, credit the station for which most of the winter's work had to wait."""
    waits = np.zeros((len(shop.problem.stations), held.size), dtype=np.float32)
    for job in shop.jobs:
        np.maximum(waits[job.station], desk.unmet[job.index], out=waits[job.station])
    if not waits.size:
        return
    worst = waits.argmax(axis=0)
    counts = held & (waits.max(axis=0) > 1e-6)
    tally.slowest[index] = np.bincount(worst[counts], minlength=len(waits))


def _note_short(shop: Shop, tonight: Tonight, desk: Desk, short: Bools) -> None:
    """Mark bought-in and given items of which less than a piece's worth was left."""
    made = {job.makes for job in shop.jobs}
    cover = shop.cover @ desk.racks
    for job in tonight.jobs:
        for item, count in job.uses:
            if item not in made:
                short[item] |= (desk.racks[item] < count - ROUNDING) & (cover[job.index] < 1.0)


def _gather_sets(shop: Shop, desk: Desk) -> None:
    """Put whole sets together: each variant up to its target in turn, then beyond it."""
    problem = shop.problem
    places = {item.id: place for place, item in enumerate(problem.items)}
    rounds = (False, True) if problem.carries_on or problem.total_target is not None else (False,)
    for beyond in rounds:
        for row, (variant, wanted) in enumerate(
            zip(problem.variants, shop.wanted_sets, strict=True), start=len(places)
        ):
            sets = np.full(desk.racks.shape[1], MOST, dtype=np.float32)
            for item, count in variant.parts.items():
                np.minimum(sets, desk.racks[places[item]] / np.float32(count), out=sets)
            sets = np.floor(sets + ROUNDING)
            # Fractions of a piece wait on the rack: nobody sets out nine tenths of a structure.
            if not beyond:
                np.minimum(sets, wanted - desk.racks[row], out=sets)
            np.maximum(sets, np.float32(0.0), out=sets)
            desk.racks[row] += sets
            for item, count in variant.parts.items():
                desk.racks[places[item]] -= sets * np.float32(count)


def _note_finished(shop: Shop, desk: Desk, tally: Tally, index: int) -> None:
    sets = desk.racks[len(shop.problem.items) :]
    tally.finished[index] = sets.sum(axis=0)
    if shop.problem.total_target is not None:
        reached = tally.finished[index] >= shop.problem.total_target
    else:
        wanted = np.array(shop.wanted_sets, dtype=np.float32)
        reached = (sets >= wanted[:, None]).all(axis=0)
    np.minimum(tally.reached, np.where(reached, index, len(shop.nights)), out=tally.reached)


# More sets than any club could gather in a night.
MOST = np.float32(1e6)
