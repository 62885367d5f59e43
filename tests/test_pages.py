"""Every page of the demo, found by its links: whole, named, readable, from this host alone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from typing import Any

import pytest
from django.contrib.staticfiles import finders
from django.db import transaction
from django.test import Client

from tests.addresses import DECISIONS, every_address
from tests.crawl import Page, crawl
from workshops.access.models import Membership
from workshops.access.permissions import Permission
from workshops.common.rooms import doors
from workshops.home.demo.load import load_demo

pytestmark = pytest.mark.django_db

TODAY = date(2026, 1, 14)

# Addresses no link leads to as a page: forms send there, or htmx asks for a piece.
NOT_WALKED_TO = {"common:job", "common:job_again", "common:gallery", "access:sign_in"}


@dataclass
class Walk:
    """What the walk through the demo met: pages, and links that lead nowhere."""

    pages: list[Page] = field(default_factory=list)
    answers: list[tuple[str, str, int]] = field(default_factory=list)


@pytest.fixture(scope="module")
def walk(django_db_setup: None, django_db_blocker: Any) -> Iterator[Walk]:
    """One walk for the whole file, by a coordinator of the demo; taken back afterwards."""
    with django_db_blocker.unblock(), transaction.atomic():
        shop = load_demo(today=TODAY)
        client = Client(raise_request_exception=False)
        client.force_login(Membership.objects.filter(shop=shop, role="coordinator")[0].user)
        met = Walk()
        rooms = [door.url for door in doors(shop.slug, set(Permission), "")]
        for url, name, status, page in crawl(client, ["/", *rooms, "/face/"]):
            met.answers.append((url, name, status))
            met.pages += [page] if page else []
        yield met
        transaction.set_rollback(True)


def told(walk: Walk, fault: Any) -> list[str]:
    """The address and the fault of every page that has one."""
    return [f"{page.url}: {found}" for page in walk.pages if (found := fault(page))]


def test_no_link_of_any_page_leads_nowhere(walk: Walk) -> None:
    assert [answer for answer in walk.answers if answer[2] not in (200, 302, 405)] == []


def test_every_page_is_reached_by_links(walk: Walk) -> None:
    reached = {name for _, name, status in walk.answers if status in (200, 302)}
    shown = {a.name for a in every_address() if getattr(a.view, "is_page", True)}
    forms_only = {name for _, name, status in walk.answers if status == 405}
    missing = shown - reached - forms_only - NOT_WALKED_TO - _posts_only()
    assert not missing, f"no link leads to {sorted(missing)}"


def _posts_only() -> set[str]:
    """Addresses that answer 405 to GET before anything else is asked."""
    client = Client()
    return {
        address.name
        for address in every_address()
        if client.get(address.url("nowhere")).status_code == 405
    }


def test_every_page_has_one_heading_with_words(walk: Walk) -> None:
    assert told(walk, lambda page: page.tags["h1"] != 1 and page.tags["h1"]) == []
    assert told(walk, lambda page: not page.heading and "no words") == []


def test_every_page_has_a_title_of_its_own(walk: Walk) -> None:
    assert told(walk, lambda page: not page.title.partition(" · ")[0].strip() and "none") == []
    titles: dict[str, set[str]] = {}
    for page in walk.pages:
        titles.setdefault(page.title.strip(), set()).add(page.name)
    assert [(title, names) for title, names in titles.items() if len(names) > 1] == []


def test_every_page_has_its_landmarks(walk: Walk) -> None:
    for landmark in ("main", "header", "footer"):
        assert told(walk, lambda page, tag=landmark: page.tags[tag] < 1 and f"no <{tag}>") == []


def test_every_tag_is_closed_in_its_turn(walk: Walk) -> None:
    assert told(walk, lambda page: page.broken) == []


def test_no_id_is_given_twice(walk: Walk) -> None:
    assert told(walk, lambda page: [i for i, n in page.ids.items() if n > 1]) == []


def test_every_field_has_a_label(walk: Walk) -> None:
    assert told(walk, lambda page: page.unlabelled) == []


def test_nothing_is_loaded_from_another_host(walk: Walk) -> None:
    outside = ("http:", "https:", "//")
    assert told(walk, lambda page: [to for to in page.loads if to.startswith(outside)]) == []


def test_no_static_file_is_missing(walk: Walk) -> None:
    names = {to.removeprefix("/static/") for page in walk.pages for to in page.loads}
    static = {name for name in names if not name.startswith(("/", "data:"))}
    assert {name for name in static if not finders.find(name)} == set()
    assert static, "no page loads a stylesheet"


def test_no_page_shows_the_inside_of_a_template(walk: Walk) -> None:
    leaks = ("{{", "{%", "&lt;bound method", "None</")
    assert told(walk, lambda page: [leak for leak in leaks if leak in page.html]) == []


def test_the_rooms_lead_to_every_slice_with_pages(walk: Walk) -> None:
    spaces = {name.partition(":")[0] for name in DECISIONS}
    assert {page.name.partition(":")[0] for page in walk.pages} >= spaces - {"access"}
