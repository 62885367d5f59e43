"""Who goes where in one stretch of a night, in every winter at once.

The most pressing operation is served first, until its rack runs a little ahead of the one
furthest behind; then the next. Whoever is left over works on at whatever has material, and
nothing made in this stretch can be used before the next: the runner carries it over.

Notes
-----
Tried over fourteen invented shops and winters: two leads of 4 % and 16 % of the work left come
within half a per cent of the best single lead in every one, and 8 % above the usual one where
few people come. Serving the last steps first made fewer sets wherever one station was scarce.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from workshops.season.engine.shop import Hands, Job, Part, Shop, Tonight
from workshops.season.engine.trials import Bools, Floats

# Person-stretches no shop has: keeps a rate near nought from making endless effort.
MUCH = np.float32(1e6)
ROUNDING = np.float32(1e-3)


@dataclass(slots=True)
class Desk:
    """The state of a stretch. Rows are crews, stations, items and variants, or jobs."""

    free: Floats  # crews: people not yet placed
    bench: Floats  # stations: benches not yet taken
    racks: Floats  # items on hand, then variants finished
    made: Floats  # jobs: good pieces of this stretch, not yet carried over
    rate: Floats  # jobs: pieces a person-minute, tonight
    good: Floats  # jobs: share that is not scrapped, this winter
    total: Floats  # jobs: pieces this winter, scrapped ones too
    unmet: Floats  # jobs: share of the winter's need that waited for people or a bench, tonight
    beside: Floats  # jobs: learners that the leads placed in this stretch have room for
    watched: Bools  # whether a fire watch stands


def work(shop: Shop, tonight: Tonight, part: Part, desk: Desk) -> None:
    """Place everybody for one stretch and make what they make."""
    cover: Floats = shop.cover @ desk.racks
    levels = _levels(shop, tonight, cover)
    _post_watch(tonight, part, desk, wanted=_hot_wanted(tonight, desk, cover, levels[-1]))
    for step, level in enumerate(levels):
        for job in tonight.jobs:
            if part.hot or not job.hot:
                possible = _possible(job, desk, level - cover[job.index])
                made = _make(shop, tonight.hands[job.index], job, part, desk, possible=possible)
                # Only the first round tells what held things up: later ones are for idle hands.
                if not step and job.wanted > 0:
                    desk.unmet[job.index] += (possible - made) / np.float32(job.wanted)
    for job in tonight.jobs:
        desk.racks[job.makes] += desk.made[job.index]
    desk.made[:] = 0.0
    desk.beside[:] = 0.0


def _levels(shop: Shop, tonight: Tonight, cover: Floats) -> list[Floats]:
    """How much of the winter to cover: keeping step, less closely, and with hands left over."""
    rows = [job.index for job in tonight.jobs if job.wanted > 0]
    if not rows:
        return [np.zeros(cover.shape[1], dtype=np.float32)]
    behind: Floats = cover[rows].min(axis=0)
    levels = [behind + np.float32(lead) for lead in shop.leads]
    most = np.ones_like(behind)
    if shop.problem.carries_on:
        # Not scaled by the work left: near the target idle hands would be sent home.
        return [*levels, np.maximum(behind + np.float32(3.0 * shop.params.leads[-1]), most)]
    return [*(np.minimum(level, most) for level in levels), most]


def _possible(job: Job, desk: Desk, ahead: Floats) -> Floats:
    """Pieces that are wanted and that racks and material allow."""
    pieces = ahead * np.float32(job.wanted * job.allowance) + np.float32(0.5)
    pieces -= desk.made[job.index]
    for item, count in job.uses:
        np.minimum(pieces, desk.racks[item] / np.float32(count), out=pieces)
    if job.rack_limit is not None:
        room = np.float32(job.rack_limit) - desk.racks[job.makes] - desk.made[job.index]
        np.minimum(pieces, room, out=pieces)
    np.maximum(pieces, np.float32(0.0), out=pieces)
    return pieces


def _hot_wanted(tonight: Tonight, desk: Desk, cover: Floats, level: Floats) -> Bools:
    wanted = np.zeros(desk.watched.shape, dtype=np.bool_)
    for job in tonight.jobs:
        if job.hot:
            wanted |= _possible(job, desk, level - cover[job.index]) > ROUNDING
    return wanted


def _post_watch(tonight: Tonight, part: Part, desk: Desk, *, wanted: Bools) -> None:
    """Take one person for the fire watch where hot work is wanted, or has been done."""
    if not part.watched:
        return
    wanted = (wanted | desk.watched) if part.hot else desk.watched
    welders = {c for job in tonight.jobs if job.hot for c, *_ in tonight.hands[job.index].alone}
    able = desk.free[sorted(welders)].sum(axis=0)
    open_posts = wanted.copy()
    for crew, could_weld in tonight.watchers:
        # A lone welder who watches leaves nobody to weld: then no arc is struck at all.
        goes = open_posts & (desk.free[crew] >= 1.0)
        if part.hot:
            goes &= able >= (2.0 if could_weld else ROUNDING)
        desk.free[crew] -= goes
        if could_weld:
            able -= goes
        open_posts &= ~goes
    desk.watched = wanted & ~open_posts


def _make(
    shop: Shop, hands: Hands, job: Job, part: Part, desk: Desk, *, possible: Floats
) -> Floats:
    """Place people at one job, take what they use, put down what they make; gives the pieces."""
    pace = desk.rate[job.index] * np.float32(part.minutes)
    effort = np.minimum(possible / pace, MUCH)
    # Zero effort, not zero people: without a watch those who weld may do other work.
    if job.hot:
        effort *= desk.watched
    made = _place(shop, hands, job, desk, effort=effort)
    made *= pace
    for item, count in job.uses:
        desk.racks[item] -= made * np.float32(count)
    desk.made[job.index] += made * desk.good[job.index]
    desk.total[job.index] += made
    return made


def _place(shop: Shop, hands: Hands, job: Job, desk: Desk, *, effort: Floats) -> Floats:
    """Take people off the free list up to ``effort``; gives the effort placed.

    People are counted in person-stretches: who finishes early moves on. A bench takes
    ``crew_max``; where it needs two or more, whole crews only.
    """
    station = shop.problem.stations[job.station]
    room = desk.bench[job.station] * np.float32(station.crew_max)
    ratio = np.float32(shop.problem.learners_per_lead)
    if station.crew_min > 1:
        here = np.float32(station.benches * station.crew_max) - room
        whole = np.floor(
            (_able(hands, job, desk, ratio=ratio) + here) / station.crew_min + ROUNDING
        )
        np.minimum(room, whole * np.float32(station.crew_max) - here, out=room)
        np.maximum(room, np.float32(0.0), out=room)
    start, left = room.copy(), effort.copy()
    for crew, pace, leads in hands.alone:
        taken = _take(desk.free[crew], room, left, np.float32(pace))
        if leads:
            desk.beside[job.index] += taken * ratio
    if hands.learners:
        beside = np.minimum(room, desk.beside[job.index])
        before = beside.copy()
        for crew, pace in hands.learners:
            _take(desk.free[crew], beside, left, np.float32(pace))
        before -= beside
        room -= before
        desk.beside[job.index] -= before
    desk.bench[job.station] -= (start - room) / np.float32(station.crew_max)
    return effort - left


def _take(free: Floats, room: Floats, left: Floats, pace: np.float32) -> Floats:
    """Move people from ``free`` to work, within the room, until no effort is left."""
    taken = np.minimum(free, room)
    if pace == 1.0:
        np.minimum(taken, left, out=taken)
        left -= taken
    else:
        np.minimum(taken, left / pace, out=taken)
        left -= taken * pace
    free -= taken
    room -= taken
    return taken


def _able(hands: Hands, job: Job, desk: Desk, *, ratio: np.float32) -> Floats:
    """Free people who could make up a crew, learners as far as leads go round."""
    able = np.zeros(desk.free.shape[1], dtype=np.float32)
    leads = np.zeros_like(able)
    learners = np.zeros_like(able)
    for crew, _, may_lead in hands.alone:
        able += desk.free[crew]
        if may_lead:
            leads += desk.free[crew]
    for crew, _ in hands.learners:
        learners += desk.free[crew]
    able += np.minimum(learners, leads * ratio + desk.beside[job.index])
    return able
