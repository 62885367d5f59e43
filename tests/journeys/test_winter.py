"""A winter from its first day to the outlook, by the coordinator, with nothing replaced."""

from __future__ import annotations

import pytest
from django.test import Client

from tests.workshops.nights.scene import Scene, bring_material, make_scene
from workshops.common.jobs import run_now
from workshops.common.models import Job
from workshops.nights.models import Aim
from workshops.season.models import IceOut, OutlookRun

pytestmark = pytest.mark.django_db

HOME = "/teal-point/winter"
WINTER = {
    "name": "2025–26", "starts_on": "2025-11-01", "ends_on": "2026-03-31",
    "ready_from": "2026-03-01", "ready_by": "2026-03-15",
}  # fmt: skip


@pytest.fixture
def scene(shop, clock) -> Scene:
    """The shop of a night, with material and nobody's winter yet."""
    scene = make_scene(shop)
    bring_material(scene)
    return scene


@pytest.fixture
def browser(coordinator, client_of) -> Client:
    return client_of(coordinator)


def sent(browser: Client, page: str, **given: object) -> str:
    return browser.post(f"{HOME}/{page}", given, follow=True).content.decode()


def begin(scene: Scene, browser: Client) -> None:
    assert "Set its target next." in sent(browser, "begin/", **WINTER)
    wanted = {"new": 30, "replacements": 8, "spares": 2}
    shown = sent(browser, "target/", item=scene.stock.complete.pk, **wanted)
    assert "The winter wants 40 Set." in shown


def test_from_the_first_day_to_the_outlook(scene, browser) -> None:
    begin(scene, browser)
    for day in ("2023-03-20", "2024-03-28", "2025-04-02"):
        sent(browser, "ice/", water="Heron Bay", went_on=day)
    assert IceOut.objects.count() == 3
    browser.post(f"{HOME}/outlook/")
    job = run_now(Job.objects.get())
    assert (job.state, OutlookRun.objects.count()) == (Job.State.DONE, 1)
    shown = browser.get(job.result["next"]).content.decode()
    assert "0 of 40 sets made" in shown
    assert 'role="img"' in shown
    assert "<desc" in shown
    assert "The target of 40 sets is reached" in shown
    assert "before the ice goes" in shown


def test_what_a_night_makes_shows_in_the_winter_and_in_tonights_aims(scene, browser) -> None:
    begin(scene, browser)
    night = "/teal-point/nights/2026-01-14"
    key = "7d2f7a52-6a3c-4a0e-8a0e-000000000002"
    operation = scene.operations["tag"].pk
    browser.post(f"{night}/tally/", {"operation": operation, "client_key": key, "add": "10"})
    assert "10 of 40 sets made" in browser.get(f"{HOME}/").content.decode()
    assert Aim.objects.get().wanted == 30


def test_before_the_target_the_outlook_says_what_to_do_first(scene, browser) -> None:
    sent(browser, "begin/", **WINTER)
    browser.post(f"{HOME}/outlook/")
    job = run_now(Job.objects.get())
    assert job.state == Job.State.FAILED
    assert "Set the target first" in browser.get(f"/teal-point/jobs/{job.pk}/").content.decode()
