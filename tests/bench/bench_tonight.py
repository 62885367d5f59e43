"""The text at 17:40: from the tap "not coming" to the page of what changed, thirty people placed.

Run by ``python3 manage.py bench tonight``; never part of the ordinary tests.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from statistics import median
from uuid import uuid4

from django.test import Client, override_settings
from django.test.utils import setup_databases, teardown_databases
from django.utils import timezone

from workshops.access.models import Membership
from workshops.home.demo.load import load_demo
from workshops.nights.actions import plan_night
from workshops.nights.models import Night, SignUp
from workshops.people.models import Person
from workshops.tonight.models import Tap
from workshops.tonight.plans import changed_by

PEOPLE, TIMES = 30, 15
Rows = list[tuple[str, str, str]]


def run() -> Rows:
    """Fifteen people tap away and come back, one after the other, on the demo's night."""
    with _database():
        night = _night()
        client = Client()
        lead = Membership.objects.filter(shop=night.shop, role=Membership.Role.DUTY_LEAD)[0]
        client.force_login(lead.user)
        page = f"/{night.shop.slug}/nights/{night.date}/tonight/"
        taps, backs, moved = _tap_and_back(client, night, page)
        station = night.shop.station_set.get(slug="weld")
        return [
            (f"tap to the page of what changed, {PEOPLE} people", _spell(taps), "2 s"),
            ("“comes after all” to its page", _spell(backs), "2 s"),
            ("others who must be told", f"median {median(moved):.0f}, most {max(moved)}", "few"),
            ("page of tonight", _page(client, page), "1 s"),
            ("what a gap costs, asked after the page",
             _page(client, f"{page}cost/{station.pk}/"), "1 s"),
            ("cold plan, asked after the page", _page(client, f"{page}cold/"), "1 s"),
        ]  # fmt: skip


def _night() -> Night:
    """The demo's night of today, with thirty who come, placed."""
    shop = load_demo(today=timezone.localdate())
    night = Night.objects.select_related("shop").get(shop=shop, date=timezone.localdate())
    coming = night.sign_ups.filter(answer=SignUp.Answer.YES)
    others = Person.objects.filter(shop=shop).exclude(pk__in=coming.values("person"))
    for person in others.order_by("pk")[: PEOPLE - coming.count()]:
        SignUp.objects.update_or_create(
            night=night, person=person, defaults={"answer": SignUp.Answer.YES}
        )
    plan_night(night=night, by=None)
    return night


def _tap_and_back(
    client: Client, night: Night, page: str
) -> tuple[list[float], list[float], list[int]]:
    taps, backs, moved = [], [], []
    placed = night.placings.order_by("person").values_list("person", flat=True).distinct()
    for person in list(placed)[:TIMES]:
        given = {"person": person, "client_key": str(uuid4())}
        taps.append(_timed(lambda given=given: client.post(f"{page}not-coming/", given)))
        tap = Tap.objects.latest("pk")
        taps[-1] += _timed(lambda tap=tap: client.get(f"{page}changed/{tap.pk}/"))
        moved.append(len({move.name for move in changed_by(tap).moves}))
        given = {"client_key": str(uuid4())}
        back = f"{page}changed/{tap.pk}/back/"
        backs.append(_timed(lambda back=back, given=given: client.post(back, given, follow=True)))
    return taps, backs, moved


def _page(client: Client, url: str) -> str:
    answer = client.get(url)
    if answer.status_code != 200:
        raise RuntimeError(f"{url} answered {answer.status_code}")
    seconds = [_timed(lambda: client.get(url)) for _ in range(5)]
    return _spell(seconds)


def _timed(act: Callable[[], object]) -> float:
    started = time.perf_counter()
    act()
    return time.perf_counter() - started


def _spell(seconds: list[float]) -> str:
    return f"median {median(seconds):.2f} s, longest {max(seconds):.2f} s"


@contextmanager
def _database() -> Iterator[None]:
    """A database in memory: what the club has is neither read nor touched."""
    kept = setup_databases(verbosity=0, interactive=False)
    try:
        with override_settings(ALLOWED_HOSTS=["testserver"]):
            yield
    finally:
        teardown_databases(kept, verbosity=0)
