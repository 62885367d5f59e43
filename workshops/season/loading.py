"""The rows of a winter, loaded in a fixed number of queries, and the problem they make."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from inventory.deliveries.expected import expected
from workshops.nights.loading import load_making
from workshops.nights.making import Shopful
from workshops.nights.models import Night, SignUp
from workshops.people.gate import register_on
from workshops.season import translate
from workshops.season.buying import if_ordered_now, on_their_way
from workshops.season.engine import problem as engine
from workshops.season.history import history_of, made_by_night, made_this_winter
from workshops.season.models import IceOut, Target, Winter
from workshops.stations.models import Operation, Station


def problem_of(winter: Winter, today: date) -> engine.Problem:
    """The rest of the winter as the outlook asks it. 29 queries for any size."""
    shop = winter.shop
    register, making = register_on(shop, today), load_making(shop)
    history, by_night = history_of(shop, today), made_by_night(winter)
    runs = {run.id for run in making.runs}
    rows: dict[str, Operation] = {
        str(row.pk): row for row in making.operations if str(row.pk) in runs
    }
    stations = list(Station.objects.filter(shop=shop, is_in_use=True).prefetch_related("tools"))
    to_come = _nights_to_come(winter, today)
    targets = [row for row in winter.targets.select_related("item") if row.count]
    made_here = {run.makes for run in making.runs}
    targets = [row for row in targets if str(row.item_id) in made_here]
    return engine.Problem(
        nights=translate.nights(to_come, register.rules.watch_minutes),
        stations=translate.stations(stations),
        items=translate.items(making),
        operations=translate.operations(making, rows, made_this_winter(winter)),
        variants=translate.variants(targets, _totals(by_night)),
        people=translate.people(
            register,
            rows.values(),
            history.turnouts(),
            answers=translate.answers_to_come(
                SignUp.objects.filter(night__in=to_come).select_related("night")
            ),
            watch=next((row for row in stations if row.kind == Station.Kind.FIRE_WATCH), None),
        ),
        arrivals=_arrivals(winter, making, _left(targets, _totals(by_night)), today),
        history=history.past_nights(),
        made=translate.made(by_night),
        ready_by=engine.ReadyBy(winter.ready_from.isoformat(), winter.ready_by.isoformat()),
        ice=translate.ice(IceOut.objects.filter(shop=shop), winter),
        learners_per_lead=register.rules.learners_per_lead,
    )


def _arrivals(
    winter: Winter, making: Shopful, left: dict[int, int], today: date
) -> tuple[engine.Arrival, ...]:
    coming = expected(winter.shop)
    ordered = on_their_way(making, coming, today=today)
    return (*ordered, *if_ordered_now(making, left, today=today, coming=coming))


def _left(targets: Iterable[Target], made: dict[int, int]) -> dict[int, int]:
    return {row.item_id: max(0, row.count - made.get(row.item_id, 0)) for row in targets}


def _nights_to_come(winter: Winter, today: date) -> list[Night]:
    rows = Night.objects.filter(
        shop=winter.shop, status=Night.Status.PLANNED, date__gte=today, date__lte=winter.ends_on
    )
    return list(rows.order_by("date").prefetch_related("blocks"))


def _totals(by_night: dict[date, dict[int, int]]) -> dict[int, int]:
    totals: dict[int, int] = {}
    for counts in by_night.values():
        for item, count in counts.items():
            totals[item] = totals.get(item, 0) + count
    return totals
