"""The register of a large club: the gate, the matrix, a past day, what somebody signed."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date, datetime, timedelta

from django.db import connection
from django.test import Client, override_settings
from django.test.utils import CaptureQueriesContext, setup_databases, teardown_databases
from django.utils import timezone

from inventory.places.models import Shop
from tests import factories
from workshops.access.models import Membership
from workshops.people.gate import Doing, register_on
from workshops.people.history import end_of, register_then
from workshops.people.models import Bar, Person, SignOff, Use, Waiver
from workshops.stations.models import Level, Station

PEOPLE, STATIONS, WINTERS, TIMES = 200, 12, 5, 15


def run() -> list[tuple[str, str, str]]:
    """Medians over fifteen rounds: 200 people, 12 stations, five winters of sign-offs."""
    with _database():
        today = timezone.localdate()
        shop = make_large_club(today)
        client = Client()
        client.force_login(factories.make_member(shop, "carla", Membership.Role.COORDINATOR))
        past = today - timedelta(days=400)
        signer = SignOff.objects.exclude(signed_by=None)[0].signed_by_id
        return [
            ("gate, 200 people x 12 stations", _measured(lambda: ask_all(shop, today)),
             "8 queries, 50 ms"),
            ("register on a past day", _measured(lambda: register_then(shop, past)), "12 queries"),
            ("the same, as known then",
             _measured(lambda: register_then(shop, past, known=end_of(past, shop))), "12 queries"),
            ("matrix page", _page(client, "people/sign-offs/"), "12 queries, 200 ms"),
            ("train next page", _page(client, "training/"), "15 queries"),
            ("timetable page", _page(client, "training/timetable/"), "20 queries"),
            ("re-sign evening page", _page(client, "training/re-sign/"), "20 queries"),
            ("past day page", _page(client, f"people/sign-offs/then/?on={past}"), "15 queries"),
            ("signed by page", _page(client, f"people/{signer}/signed/"), "15 queries"),
        ]  # fmt: skip


def ask_all(shop: Shop, on: date) -> int:
    """Whether each may work at each station; gives how many yeses there are."""
    register = register_on(shop, on)
    return sum(
        register.answer(person, station, Doing.WORKS).ok
        for person in register.people
        for station in register.stations
    )


def make_large_club(today: date) -> Shop:
    """Two hundred people signed anew for half of twelve stations in each of five winters."""
    shop = factories.make_shop()
    stations = [
        factories.make_station(shop, level_needed=Level.ALONE, age_min=18) for _ in range(STATIONS)
    ]
    stations[1].prerequisites.add(stations[0])
    people = [factories.make_person(shop) for _ in range(PEOPLE)]
    _sign_everybody(shop, people, stations, today)
    Waiver.objects.bulk_create(
        Waiver(shop=shop, person=person, version="1", signed_on=today, valid_until=today)
        for person in people
    )
    Bar.objects.bulk_create(
        Bar(shop=shop, person=person, station=stations[0], reason="x", set_by="C")
        for person in people[:20]
    )
    # One station lapses without use, which makes the register look at every use.
    stations[2].lifetimes.create(
        shop=shop, unused_months=6, decided_by="B", decided_on=date(2020, 1, 1), source="m"
    )
    return shop


def _sign_everybody(shop: Shop, people: list[Person], stations: list[Station], today: date) -> None:
    rows, uses = [], []
    for winter in range(WINTERS):
        signed_on = today - timedelta(days=365 * winter + 30)
        at = datetime.combine(signed_on, datetime.min.time(), tzinfo=shop.zone)
        for number, person in enumerate(people):
            for station in stations[number % 2 :: 2]:
                signer = people[(number + 1) % 10] if number >= 10 else None
                rows.append(SignOff(
                    shop=shop, person=person, station=station, signed_by=signer, evidence="seen",
                    level=Level.MAY_SIGN if number < 10 else Level.ALONE, signed_on=signed_on,
                    valid_until=signed_on + timedelta(days=364), recorded_at=at,
                ))  # fmt: skip
                uses += [
                    Use(shop=shop, person=person, station=station, minutes=40,
                        day=signed_on + timedelta(days=7 * week))
                    for week in range(4)
                ]  # fmt: skip
    SignOff.objects.bulk_create(rows)
    Use.objects.bulk_create(uses)


def _page(client: Client, path: str) -> str:
    return _measured(lambda: client.get(f"/teal-point/{path}"))


def _measured(act: Callable[[], object]) -> str:
    with CaptureQueriesContext(connection) as asked:
        answer = act()
    count, seconds = len(asked), []
    for _ in range(TIMES):
        began = time.perf_counter()
        act()
        seconds.append(time.perf_counter() - began)
    told = f"{count} queries, {statistics.median(seconds) * 1000:.0f} ms"
    status = getattr(answer, "status_code", 200)
    return told if status == 200 else f"{told} (answered {status})"


@contextmanager
def _database() -> Iterator[None]:
    """A database in memory: what the club has is neither read nor touched."""
    kept = setup_databases(verbosity=0, interactive=False)
    try:
        with override_settings(ALLOWED_HOSTS=["testserver"]):
            yield
    finally:
        teardown_databases(kept, verbosity=0)
