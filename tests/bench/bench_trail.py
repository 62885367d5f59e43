"""What the trail of changes costs: a thousand edits with and without it, its page, an erase."""

from __future__ import annotations

import time
from contextlib import nullcontext
from itertools import cycle
from typing import Any

from auditlog.context import disable_auditlog
from auditlog.models import LogEntry
from django.contrib.contenttypes.models import ContentType
from django.test import Client
from django.utils import timezone

from inventory.places.models import Shop
from tests import factories
from tests.bench.bench_people import _database, _measured, make_large_club
from workshops.access.models import Membership
from workshops.access.trail import Asked, trail_of
from workshops.people.actions import edit_person
from workshops.people.erase import preview_erase
from workshops.people.models import Person
from workshops.people.telling import everything_of

EDITS, LINES = 1_000, 200_000


def run() -> list[tuple[str, str, str]]:
    """200 people; 200,000 lines of the trail in one shop, none in a second that is new."""
    with _database():
        shop = make_large_club(timezone.localdate())
        quiet = factories.make_shop(name="Quiet", slug="quiet")
        without, with_it = _edits(shop, disable_auditlog()), _edits(shop, nullcontext())
        _fill(shop)
        client = Client()
        client.force_login(factories.make_member(shop, "carla", Membership.Role.COORDINATOR))
        person = Person.objects.filter(shop=shop).order_by("pk")[10]
        return [
            (f"{EDITS} edits of people without the trail", f"{without:.2f} s", ""),
            (f"{EDITS} edits of people with it", f"{with_it:.2f} s", ""),
            ("trail page", _measured(lambda: client.get(f"/{shop.slug}/trail/")), ""),
            ("trail, one kind", _asked(shop, Asked(kind="waiver")), ""),
            ("trail, a name nobody bears", _asked(shop, Asked(words="zzz")), ""),
            ("trail of a shop without lines", _asked(quiet, Asked()), ""),
            ("everything of a person", _measured(lambda: everything_of(person)), ""),
            ("erase, tried and taken back", _measured(lambda: preview_erase(person, by=None)), ""),
        ]  # fmt: skip


def _asked(shop: Shop, asked: Asked) -> str:
    return str(_measured(lambda: trail_of(shop, asked)))


def _edits(shop: Shop, around: Any) -> float:
    people = list(Person.objects.filter(shop=shop).select_related("shop"))
    with around:
        began = time.perf_counter()
        for number in range(EDITS):
            person = people[number % len(people)]
            edit_person(person=person, fields={"phone": f"555 {number:06}"}, by=None)
        return time.perf_counter() - began


def _fill(shop: Shop) -> None:
    kind = ContentType.objects.get_for_model(Person)
    people = list(Person.objects.filter(shop=shop))
    rows = (
        LogEntry(
            content_type=kind, object_pk=str(person.pk), object_repr=str(person),
            action=1, changes={"phone": ["not shown", "not shown"]},
            additional_data={"shop": shop.pk}, timestamp=timezone.now(),
        )
        for _, person in zip(range(LINES), cycle(people), strict=False)
    )  # fmt: skip
    LogEntry.objects.bulk_create(rows, batch_size=2_000)
