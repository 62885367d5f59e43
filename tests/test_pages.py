"""Every page of the demo, found by its links: whole, named, readable, from this host alone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import pytest
from django.contrib.staticfiles import finders
from django.db import transaction
from django.test import Client, override_settings
from django.utils import timezone

from inventory.places.models import Shop
from tests.addresses import DECISIONS, every_address
from tests.crawl import Page, Visit, crawl
from workshops.access.models import Membership
from workshops.access.permissions import Permission
from workshops.common.rooms import doors
from workshops.home.demo.job import Bench, run_steps
from workshops.home.demo.load import load_demo
from workshops.home.demo.steps import STEPS
from workshops.people.models import Person

pytestmark = pytest.mark.django_db

# Pages that the demo's coordinator cannot be led to, and why.
NOT_WALKED_TO = {
    "access:sign_in": "already signed in",
    **dict.fromkeys(
        ("access:again", "access:forgotten", "access:forgotten_sent", "access:new_password"),
        "for somebody not signed in; tested in access",
    ),
    "common:job": "the steps of the demo run without jobs; tested in common/views",
    "counting:sheet": "no sheet was typed in for the demo; tested in counting/views",
    "common:worker": "a script that browsers fetch; tested in common and in browser",
    "common:gallery": "for those who write pages",
    "mine:ask": "already signed in; its letter, its link and the calendar: journeys and mine/views",
    "mine:open": "the same",
    "mine:calendar": "the same: a calendar program reads it, not a person",
    "people:brought": "nobody left a file lying; tested in the journeys",
    "tonight:changed": "nobody tapped that they do not come; tested in the journeys",
    "nights:places": "read by the script of the board; tested in the journeys",
    "nights:group": "no group came to the demo; tested in nights/views",
    "quality:held": "nothing is held back in the demo; tested in quality/views",
    "trouble:one": "nothing happened in the demo; tested in trouble/views",
    "season:begin": "the demo's winter has begun",
    "stations:edit_sheet": "the demo has no draft",
    "stock:cut_over": "no drawing of the demo took the place of another",
    "stock:list": "nobody left a file lying; tested in stock/views",
}


@dataclass
class Walk:
    """What the walk through the demo met: pages, pieces, and links that lead nowhere."""

    visits: list[Visit] = field(default_factory=list)

    @property
    def pages(self) -> list[Page]:
        """Whole pages, not the pieces htmx asks for."""
        return [page for page in self.read if not page.is_piece]

    @property
    def read(self) -> list[Page]:
        """Every page and piece."""
        return [visit.page for visit in self.visits if visit.page]


@pytest.fixture(scope="module")
def walk(
    django_db_setup: None, django_db_blocker: Any, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Walk]:
    """One walk for the whole file, by a coordinator after the main job; taken back afterwards."""
    folder = tmp_path_factory.mktemp("walk")
    with (
        django_db_blocker.unblock(),
        override_settings(MEDIA_ROOT=folder / "media"),
        transaction.atomic(),
    ):
        shop = load_demo(today=timezone.localdate())
        run_steps(Bench(shop, timezone.localdate(), folder), lambda said: None, STEPS)
        client = Client(raise_request_exception=False)
        client.force_login(Membership.objects.filter(shop=shop, role="coordinator")[0].user)
        rooms = [door.url for door in doors(shop.slug, set(Permission), "")]
        wards = [f"/{shop.slug}/people/{p.pk}/" for p in minors_of(shop)]
        yield Walk(list(crawl(client, ["/", *rooms, "/face/", *wards[:1]])))
        transaction.set_rollback(True)


def minors_of(shop: Shop) -> list[Person]:
    """Those whose page asks for a guardian, which few pages do."""
    return list(Person.objects.filter(shop=shop, guardianships__isnull=False).distinct())


def told(walk: Walk, fault: Any) -> list[str]:
    """The address and the fault of every page that has one."""
    return [f"{page.url}: {found}" for page in walk.pages if (found := fault(page))]


def test_no_link_of_any_page_leads_nowhere(walk: Walk) -> None:
    bad = [visit for visit in walk.visits if visit.status not in (200, 302, 405)]
    assert [(visit.url, visit.status) for visit in bad] == []


def test_every_page_is_reached_by_links(walk: Walk, client: Client) -> None:
    reached = {visit.name for visit in walk.visits}
    missing = {
        address.name for address in every_address()
        if address.name not in reached | set(NOT_WALKED_TO)
        and client.get(address.url("nowhere")).status_code != 405
    }  # fmt: skip
    assert not missing, f"no link leads to {sorted(missing)}"


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


def test_every_tag_is_closed_in_its_turn_in_pages_and_pieces(walk: Walk) -> None:
    assert [(page.url, page.broken) for page in walk.read if page.broken] == []


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
    leaks = ("{{", "{%", "{#", "&lt;bound method", "None</")
    assert told(walk, lambda page: [leak for leak in leaks if leak in page.html]) == []


def test_the_rooms_lead_to_every_slice_with_pages(walk: Walk) -> None:
    spaces = {name.partition(":")[0] for name in DECISIONS}
    assert {page.name.partition(":")[0] for page in walk.pages} >= spaces - {"access"}
