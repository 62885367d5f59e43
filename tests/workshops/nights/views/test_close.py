"""Closing the night: refused until everybody is out and the watch is signed."""

from __future__ import annotations

from workshops.nights import actions
from workshops.nights.models import Night

WORDS = {"words": "Two heads on hold. Ring Bo about the torch."}


def closed(client, url: str) -> str:
    return client.post(url, WORDS, follow=True).content.decode()


def status() -> str:
    return Night.objects.get().status


def test_the_night_closes_with_its_hand_over(scene, lead, page) -> None:
    shown = closed(lead, page("close"))
    assert "The night is closed. Thank you, and good night." in shown
    assert "Hand-over by Dov: Two heads on hold." in shown
    assert status() == "closed"


def test_it_stays_open_while_somebody_is_in(scene, lead, page) -> None:
    actions.sign_in(night=scene.night, person=scene.people["Ada"], at=scene.at("18:00"))
    shown = closed(lead, page("close"))
    assert "Sign out first who is still on the roll: Ada R." in shown
    assert "Two heads on hold" in shown
    assert status() == "planned"


def test_it_stays_open_until_the_watch_is_signed(scene, lead, page) -> None:
    actions.open_permit(
        night=scene.night, watcher=scene.people["Cy"], opened_by="Dov", at=scene.at("18:10")
    )
    assert "Cy Reed has not signed the end of the fire watch." in closed(lead, page("close"))
    assert status() == "planned"


def test_a_hand_over_without_words_is_refused(scene, lead, page) -> None:
    assert lead.post(page("close"), {"words": ""}).status_code == 422
    assert status() == "planned"


def test_what_was_counted_is_shown_before_closing(scene, lead, page) -> None:
    actions.tally(
        night=scene.night,
        operation=scene.operations["drill"],
        at=scene.at("19:00"),
        by=None,
        good=7,
    )
    shown = lead.get(page("close")).content.decode()
    assert "Counted tonight" in shown
    assert "<b>7</b> good" in shown
    assert "Make Head" not in shown


def test_only_whoever_runs_the_night_closes_it(scene, guest, stranger, client_of, page) -> None:
    assert guest.post(page("close"), WORDS).status_code == 403
    assert client_of(stranger).post(page("close"), WORDS).status_code == 404
    assert status() == "planned"
