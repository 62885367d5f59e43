"""The winter as a linear programme: one function for each family of columns and rows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from inventory.engines.milp import Programme
from workshops.season.engine.shop import Crew, Job, Shop, Tonight

# A set is worth 1; sooner is a little better, past the target much less.
SOONER = 0.02
BEYOND = 0.1


@dataclass(slots=True)
class Columns:
    """Which column stands for what; keys are night, then job, crew, item or variant."""

    hours: dict[tuple[int, int, int], int] = field(default_factory=dict)
    learning: dict[tuple[int, int, int], int] = field(default_factory=dict)
    watch: dict[tuple[int, int], int] = field(default_factory=dict)
    pieces: dict[tuple[int, int], int] = field(default_factory=dict)
    racks: dict[tuple[int, int], int] = field(default_factory=dict)
    sets: dict[tuple[int, int], int] = field(default_factory=dict)
    first_balance: dict[int, int] = field(default_factory=dict)  # item: row of the first night


@dataclass(slots=True)
class Model:
    """The programme under construction. Minutes are hundreds of person-minutes, for scale."""

    shop: Shop
    programme: Programme = field(default_factory=lambda: Programme(maximise=True))
    columns: Columns = field(default_factory=Columns)


SCALE = 100.0


def built(shop: Shop) -> Model:
    """The whole programme."""
    model = Model(shop)
    for index, tonight in enumerate(shop.nights):
        _columns(model, index, tonight)
        _crew_time(model, index, tonight)
        _benches(model, index, tonight)
        _learners(model, index, tonight)
        _fire_watch(model, index, tonight)
        _production(model, index, tonight)
        _racks(model, index)
    _targets(model)
    return model


def heads(shop: Shop, crew: Crew, tonight: Tonight) -> float:
    """People of a crew on average, lost nights counted in."""
    chances = [shop.beliefs.turnout[member.id].unasked.mean for member in crew.members]
    return sum(chances) * _held(shop, tonight)


def _held(shop: Shop, tonight: Tonight) -> float:
    known = tonight.night.chance_lost
    return 1.0 - (shop.beliefs.lost.mean if known is None else known)


def minutes(tonight: Tonight, *, hot: bool) -> float:
    """Minutes of work on a night, or those before the last spark, in the model's scale."""
    return sum(part.minutes for part in tonight.parts if part.hot or not hot) / SCALE


def _columns(model: Model, night: int, tonight: Tonight) -> None:
    programme, columns = model.programme, model.columns
    for job in tonight.jobs:
        columns.pieces[night, job.index] = programme.column()
        for crew, *_ in tonight.hands[job.index].alone:
            columns.hours[night, job.index, crew] = programme.column()
        for crew, _ in tonight.hands[job.index].learners:
            columns.learning[night, job.index, crew] = programme.column()
    for crew, _ in tonight.watchers:
        columns.watch[night, crew] = programme.column()
    for index, item in enumerate(model.shop.problem.items):
        limit = float("inf") if item.rack_limit is None else max(item.rack_limit, item.on_hand)
        columns.racks[night, index] = programme.column(upper=limit)
    left = 1.0 - night / max(len(model.shop.nights), 1)
    for index in range(len(model.shop.problem.variants)):
        columns.sets[night, index] = programme.column(1.0 + SOONER * left)


def _crew_time(model: Model, night: int, tonight: Tonight) -> None:
    """Nobody is in two places: a crew's minutes, and those in which an arc may burn."""
    columns = model.columns
    for index, crew in enumerate(model.shop.crews):
        present = heads(model.shop, crew, tonight)
        busy = {c: 1.0 for (n, _, k), c in _work(columns) if (n, k) == (night, index)}
        if (night, index) in columns.watch:
            busy[columns.watch[night, index]] = 1.0
        model.programme.row(busy, upper=present * minutes(tonight, hot=False))
        hot = {
            c: 1.0
            for (n, j, k), c in _work(columns)
            if (n, k) == (night, index) and model.shop.jobs[j].hot
        }
        model.programme.row(hot, upper=present * minutes(tonight, hot=True))


def _work(columns: Columns) -> list[tuple[tuple[int, int, int], int]]:
    return [*columns.hours.items(), *columns.learning.items()]


def _benches(model: Model, night: int, tonight: Tonight) -> None:
    """A station's minutes: its seats, as far as people are there who may take them."""
    for index, station in enumerate(model.shop.problem.stations):
        used = {
            column: 1.0
            for (n, job, _), column in _work(model.columns)
            if n == night and model.shop.jobs[job].station == index
        }
        hot = any(job.hot for job in tonight.jobs if job.station == index)
        able = sorted(_crews_at(tonight, index))
        chances = [chance for crew in able for chance in _chances(model.shop, crew)]
        seats = expected_seats(chances, station.benches * station.crew_max)
        room = seats * minutes(tonight, hot=hot) * _held(model.shop, tonight)
        model.programme.row(used, upper=room)


def _crews_at(tonight: Tonight, station: int) -> set[int]:
    jobs = [job for job in tonight.jobs if job.station == station]
    alone = {crew for job in jobs for crew, *_ in tonight.hands[job.index].alone}
    return alone | {crew for job in jobs for crew, _ in tonight.hands[job.index].learners}


def _chances(shop: Shop, crew: int) -> list[float]:
    return [shop.beliefs.turnout[m.id].unasked.mean for m in shop.crews[crew].members]


def expected_seats(chances: Sequence[float], seats: int) -> float:
    """How many of ``seats`` are taken on average by people who each come with their chance.

    Less than the smaller of seats and expected people: on a night when nobody comes, the two
    who came last week are no help.
    """
    coming = np.zeros(seats + 1)
    coming[0] = 1.0
    for chance in chances:
        # The last entry gathers all who find no seat.
        moved = coming * chance
        coming -= moved
        coming[1:] += moved[:-1]
        coming[-1] += moved[-1]
    return float(coming @ np.arange(seats + 1))


def _learners(model: Model, night: int, tonight: Tonight) -> None:
    """Learners only beside a lead, at the club's ratio."""
    ratio = float(model.shop.problem.learners_per_lead)
    for job in tonight.jobs:
        hands = tonight.hands[job.index]
        row = {model.columns.learning[night, job.index, crew]: 1.0 for crew, _ in hands.learners}
        for crew, _, leads in hands.alone:
            if leads:
                row[model.columns.hours[night, job.index, crew]] = -ratio
        model.programme.row(row, upper=0.0)


def _fire_watch(model: Model, night: int, tonight: Tonight) -> None:
    """Minutes at hot benches need a watch in proportion, and the watch outlasts the spark."""
    hot = minutes(tonight, hot=True)
    watched = sum(part.minutes for part in tonight.parts if part.watched) / SCALE
    work = {
        column: 1.0
        for (n, job, _), column in _work(model.columns)
        if n == night and model.shop.jobs[job].hot
    }
    if not work or not watched:
        return
    stations = {job.station for job in tonight.jobs if job.hot}
    all_stations = model.shop.problem.stations
    seats = sum(all_stations[s].benches * all_stations[s].crew_max for s in stations)
    watch = {model.columns.watch[night, crew]: 1.0 for crew, _ in tonight.watchers}
    model.programme.row(dict(watch), upper=watched * _held(model.shop, tonight))
    # At most so many people weld while one watches.
    per_watch = seats * hot / watched
    model.programme.row({**work, **dict.fromkeys(watch, -per_watch)}, upper=0.0)


def _production(model: Model, night: int, tonight: Tonight) -> None:
    for job in tonight.jobs:
        hands, rate = tonight.hands[job.index], _rate(model.shop, job)
        row = {model.columns.pieces[night, job.index]: -1.0}
        for crew, pace, _ in hands.alone:
            row[model.columns.hours[night, job.index, crew]] = rate * pace
        for crew, pace in hands.learners:
            row[model.columns.learning[night, job.index, crew]] = rate * pace
        model.programme.row(row, lower=0.0, upper=0.0)


def _rate(shop: Shop, job: Job) -> float:
    """Pieces per minute of the model's scale, as learned half-way through what is to be made."""
    # A linear programme cannot learn as it goes: one rate stands for the rest of the winter.
    half_way = max(job.wanted - job.made, 0.0) / 2.0
    ratio = (job.made + half_way + 1.0) / (job.reference + 1.0)
    learned = float(min(ratio**-job.exponent, shop.params.learning_cap))
    return shop.beliefs.rates[job.id].pieces_per_minute.mean * SCALE * learned


def _racks(model: Model, night: int) -> None:
    """What is there tonight is what was there, and came, and was made, less what was used."""
    for index, item in enumerate(model.shop.problem.items):
        row = {model.columns.racks[night, index]: 1.0}
        if night:
            row[model.columns.racks[night - 1, index]] = -1.0
        for job in model.shop.nights[night].jobs:
            moved = _moved(model.shop, job, index)
            if moved:
                row[model.columns.pieces[night, job.index]] = -moved
        for number, variant in enumerate(model.shop.problem.variants):
            if item.id in variant.parts:
                row[model.columns.sets[night, number]] = float(variant.parts[item.id])
        came = _arrived(model.shop, item.id, night) + (0 if night else item.on_hand)
        number = model.programme.row(row, lower=came, upper=came)
        if not night:
            model.columns.first_balance[index] = number


def _moved(shop: Shop, job: Job, item: int) -> float:
    """Pieces of an item that one piece of a job adds, scrap off, or takes."""
    good = 1.0 - shop.beliefs.rates[job.id].scrap.mean
    return (good if job.makes == item else 0.0) - dict(job.uses).get(item, 0.0)


def _arrived(shop: Shop, item: str, night: int) -> float:
    before = shop.nights[night - 1].night.date if night else ""
    until = shop.nights[night].night.date
    return float(
        sum(
            a.quantity for a in shop.problem.arrivals if a.item == item and before < a.date <= until
        )
    )


def _targets(model: Model) -> None:
    """Sets up to each variant's target count in full, those beyond it for little."""
    for index, (variant, wanted) in enumerate(
        zip(model.shop.problem.variants, model.shop.wanted_sets, strict=True)
    ):
        row = {column: 1.0 for (_, number), column in model.columns.sets.items() if number == index}
        may_go_on = model.shop.problem.carries_on
        row[model.programme.column(BEYOND - 1.0, upper=float("inf") if may_go_on else 0.0)] = -1.0
        model.programme.row(row, upper=float(max(wanted - variant.finished, 0)))
