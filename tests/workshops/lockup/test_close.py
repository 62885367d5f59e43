"""Closing the night: refused until everybody is out and the watch is signed."""

from __future__ import annotations

from tests.workshops.nights.hot import open_permit
from workshops.lockup.models import StepTick
from workshops.nights import actions
from workshops.nights.models import Night

CLOSE = "/teal-point/nights/2026-01-14/close/"
WORDS = {"words": "Two heads on hold. Ring Bo about the torch.", "not_done": "late"}


def closed(client, url: str) -> str:
    return client.post(url, WORDS, follow=True).content.decode()


def status() -> str:
    return Night.objects.get().status


def test_the_night_closes_with_its_hand_over(scene, lead) -> None:
    shown = closed(lead, CLOSE)
    assert "The night is closed. Thank you, and good night." in shown
    assert "Written by Dov" in shown
    assert "Two heads on hold." in shown
    assert status() == "closed"


def test_it_stays_open_while_somebody_is_in(scene, lead) -> None:
    actions.sign_in(night=scene.night, person=scene.people["Ada"], at=scene.at("18:00"))
    shown = closed(lead, CLOSE)
    assert "Sign out first who is still on the roll: Ada R." in shown
    assert "Two heads on hold" in shown
    assert status() == "planned"


def test_it_stays_open_until_the_watch_is_signed(scene, lead) -> None:
    open_permit(scene.night, scene.people["Cy"], scene.at("18:10"))
    assert "Cy Reed has not signed the end of the fire watch." in closed(lead, CLOSE)
    assert status() == "planned"


def test_a_hand_over_without_words_is_refused(scene, lead) -> None:
    assert lead.post(CLOSE, {"words": ""}).status_code == 422
    assert status() == "planned"


def test_a_step_is_ticked_by_name_or_says_why_not(scene, lead) -> None:
    url = f"{CLOSE}steps/"
    lead.post(url, {"ticked_by": "Ada", "shop-heat": "on", "shop-waste-why": "no bags left"})
    found = {row.step: row for row in StepTick.objects.all()}
    assert (found["heat"].is_done, found["heat"].ticked_by) == (True, "Ada")
    assert (found["waste"].is_done, found["waste"].because) == (False, "no bags left")
    shown = lead.post(CLOSE, {"words": "x"}).content.decode()
    assert "1 steps are neither ticked nor explained, the first: the shop, windows" in shown


def test_what_was_counted_is_shown_before_closing(scene, lead) -> None:
    actions.tally(
        night=scene.night,
        operation=scene.operations["drill"],
        at=scene.at("19:00"),
        by=None,
        good=7,
    )
    shown = lead.get(CLOSE).content.decode()
    assert "Counted tonight" in shown
    assert "<b>7</b> good" in shown
    assert "Make Head" not in shown


def test_only_whoever_runs_the_night_closes_it(scene, guest, stranger, client_of) -> None:
    assert guest.post(CLOSE, WORDS).status_code == 403
    assert client_of(stranger).post(CLOSE, WORDS).status_code == 404
    assert status() == "planned"
