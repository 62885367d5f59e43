"""The tally through a bad night: tablets, paper, the wrong thing, and a count that is off."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any
from uuid import uuid4

import pytest
from django.test import Client

from inventory.ledger.queries import balance_of, check
from tests.workshops.counting.tablet import SimulatedTablet
from tests.workshops.nights.scene import Scene, bring_material, make_scene
from workshops.access.models import User
from workshops.counting.models import PaperLine

TALLY = "/teal-point/nights/2026-01-14/tally/"


@pytest.fixture
def scene(shop: Any, clock: Any) -> Scene:
    found = make_scene(shop)
    bring_material(found)
    return found


@pytest.fixture
def lead(duty_lead: User, client_of: Callable[[User], Client]) -> Client:
    return client_of(duty_lead)


def tablet(client: Client, name: str) -> SimulatedTablet:
    def post(batch: Any) -> Any:
        answer = client.post(f"{TALLY}share/", batch, content_type="application/json")
        return answer.json() if answer.status_code == 200 else None

    return SimulatedTablet(name, post)


def page(client: Client, below: str = "") -> str:
    return re.sub(r"\s+", " ", client.get(TALLY + below).content.decode())


def typed_in(client: Client, counted: dict[str, Any], decision: str, word: str) -> None:
    """A sheet typed in, and one decision for each of its lines."""
    url = client.post(f"{TALLY}sheets/", counted)["Location"]
    given = {}
    for line in PaperLine.objects.filter(sheet__number=int(url.split("/")[-2])):
        given[f"line-{line.pk}-decision"], given[f"line-{line.pk}-word"] = decision, word
    assert client.post(url, given).status_code == 302


def test_one_night_is_tallied_on_paper_and_on_a_tablet(scene: Scene, lead: Client) -> None:
    drill, weld = (scene.operations[name].pk for name in ("drill", "weld"))
    bench = tablet(lead, "bench tablet")
    bench.tap(drill, good=10)
    bench.tap(drill, good=10)
    bench.share()
    # Bo wrote the same posts on a sheet, three more than were tapped, and heads nobody tapped.
    typed_in(lead, {f"good_{drill}": "23", "counted_by": "Bo"}, "same", "Bo tapped and wrote")
    typed_in(lead, {f"good_{weld}": "4", "counted_by": "Bo"}, "more", "no tablet at the weld")
    assert (balance_of(scene.stock.post), balance_of(scene.stock.head)) == (23, 4)
    record = page(lead, "record/")
    assert "Sheet 1" in record
    assert "Sheet 2" in record
    assert list(check(scene.shop)) == []


def test_a_tablet_loses_the_network_and_then_its_battery(
    scene: Scene, lead: Client, clock: Any
) -> None:
    drill = scene.operations["drill"].pk
    blue, bench = tablet(lead, "blue tablet"), tablet(lead, "bench tablet")
    for _ in range(3):
        blue.tap(drill, good=10)
        blue.share()
    # The network goes; four taps wait, two of them reach the shop and no answer comes back.
    for _ in range(4):
        blue.tap(drill, good=1)
    blue.post(blue.batch(blue.waiting[:2]) | {"told": 7})
    bench.tap(drill, good=5)
    bench.share()
    assert "It shared up to tap 5; it had told us of 7" in page(lead, "tablets/")
    tablets = page(lead, "tablets/")
    pk = re.findall(r"tablets/(\d+)/lost/", tablets)
    assert len(pk) == 2
    blue_pk = re.search(r"blue tablet.*?tablets/(\d+)/lost/", tablets)
    assert blue_pk
    lead.post(f"{TALLY}tablets/{blue_pk[1]}/lost/", {"words": "battery empty, left in the cold"})
    assert "at most 2 taps that it told of" in page(lead, "tablets/")
    # The posts on the rack are counted again: 39 of them, whoever tapped them.
    typed_in(lead, {f"good_{drill}": "39", "note": "counted again"}, "same", "Ada and Eli counted")
    assert balance_of(scene.stock.post) == 39
    # Charged next day, the tablet shares after all: nothing doubles.
    clock.shift(60 * 60)
    blue.share()
    assert balance_of(scene.stock.post) == 39
    assert "It has spoken again since" in page(lead, "tablets/")
    assert list(check(scene.shop)) == []


def test_sixty_heads_were_counted_as_posts(scene: Scene, lead: Client) -> None:
    drill, weld = scene.operations["drill"].pk, scene.operations["weld"].pk
    bench = tablet(lead, "bench tablet")
    for _ in range(6):
        bench.tap(drill, good=10)
    bench.share()
    given = {"counted_as": drill, "was": weld, "good": 60, "reason": "Bo welded, nobody drilled"}
    lead.post(f"{TALLY}mend/", given | {"client_key": str(uuid4())})
    assert (balance_of(scene.stock.post), balance_of(scene.stock.head)) == (0, 60)
    record = page(lead, "record/")
    assert "60 good, 0 on hold, 0 scrap were counted as Make Post and were Make Head" in record
    assert "Bo welded, nobody drilled" in record
    # Two heads take as much tube as the drawing says, and no post's tube is missing.
    assert list(check(scene.shop)) == []


def test_the_count_is_off_by_forty(scene: Scene, lead: Client, storekeeper: User) -> None:
    drill = scene.operations["drill"].pk
    bench, door = tablet(lead, "bench tablet"), tablet(lead, "door tablet")
    for found in (bench, door):  # one rack of posts, counted at two tablets
        for _ in range(4):
            found.tap(drill, good=10)
        found.share()
    assert "door tablet" in page(lead, "record/")
    given = {"counted_as": drill, "good": 40, "reason": "both tablets counted the same rack"}
    lead.post(f"{TALLY}mend/", given | {"client_key": str(uuid4())})
    assert balance_of(scene.stock.post) == 40
    assert "were counted as Make Post and were nothing" in page(lead, "record/")
    assert list(check(scene.shop)) == []


def test_the_session_ends_and_nothing_is_lost(scene: Scene, lead: Client, duty_lead: User) -> None:
    bench = tablet(lead, "bench tablet")
    bench.tap(scene.operations["drill"].pk, good=10)
    lead.post("/sign-out/")
    assert bench.share() is None
    lead.force_login(duty_lead)
    bench.share()
    assert balance_of(scene.stock.post) == 10
