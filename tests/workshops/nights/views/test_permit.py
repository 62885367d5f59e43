"""The hot-work permit: points by name, a named watch, and a signature that cannot come early."""

from __future__ import annotations

from uuid import uuid4

import pytest

from tests.workshops.nights.hot import answer_all, posted
from workshops.nights.models import HotWorkPermit
from workshops.nights.permit.points import POINTS


@pytest.fixture
def looked(scene) -> None:
    """Every point answered."""
    answer_all(scene.night, scene.at("18:00"))


def opened(client, url: str, scene, watcher: str = "Cy") -> str:
    given = posted(scene.night, scene.people[watcher])
    return client.post(url, given, follow=True).content.decode()


def struck(client, page, scene, at: str = "19:30") -> str:
    given = {"station": scene.weld.pk, "struck_by": "Bo", "at": at, "client_key": uuid4()}
    return client.post(page("spark"), given, follow=True).content.decode()


def signed(client, page, what: str = "end", name: str = "Cy Reed") -> str:
    given = {"what": what, "signed_by": name}
    return client.post(page("watch_sign"), given, follow=True).content.decode()


def test_the_permit_is_opened_with_a_named_watch(scene, looked, lead, page) -> None:
    shown = opened(lead, page("permit"), scene)
    assert "When is the last spark?" in shown
    assert "18:00 by Dov" in shown
    assert "60 minutes" in shown


def test_no_permit_opens_before_every_point_is_answered(scene, lead, page) -> None:
    assert "Not answered yet: The floor is swept" in opened(lead, page("permit"), scene)
    given = {point.key: "yes" for point in POINTS} | {"checked_by": "Ada"}
    lead.post(page("permit_points"), given | {"straw": "no"})
    assert "no, says Ada. Carry it out and sweep." in opened(lead, page("permit"), scene)
    lead.post(page("permit_points"), {"straw": "yes", "checked_by": "Bo"})
    assert "When is the last spark?" in opened(lead, page("permit"), scene)


def test_a_watch_without_the_sign_off_is_refused_with_the_reason(scene, looked, lead, page) -> None:
    assert "has no sign-off for Fire watch." in opened(lead, page("permit"), scene, "Bo")
    assert not HotWorkPermit.objects.exists()


def test_nobody_chosen_is_told_at_the_field(scene, lead, page) -> None:
    answer = lead.post(page("permit"), {"watcher": ""})
    assert answer.status_code == 422
    assert "This field is required" in answer.content.decode()


def test_the_watch_cannot_be_signed_before_it_is_over(scene, looked, lead, page, clock) -> None:
    opened(lead, page("permit"), scene)
    clock.shift(2 * 3600)
    assert "lasts until 20:30" in struck(lead, page, scene)
    assert "The watch lasts until 20:30" in signed(lead, page)
    clock.shift(1800)
    assert "The end of the watch is signed by Cy Reed" in signed(lead, page)


def test_a_round_and_a_turn_are_written_down(scene, looked, lead, page) -> None:
    opened(lead, page("permit"), scene)
    assert "Round by Cy Reed written down." in signed(lead, page, "round")
    given = {"watcher": scene.people["Bo"].pk}
    shown = lead.post(page("watch_turn"), given, follow=True).content.decode()
    assert "has no sign-off for Fire watch." in shown


def test_a_point_of_the_clubs_own_is_asked_on_every_permit(scene, looked, lead, boss, page) -> None:
    given = {"words": "Dust collector emptied", "if_no": "Empty it."}
    assert lead.post(page("permit_ask"), given).status_code == 403
    boss.post(page("permit_ask"), given)
    assert "Not answered yet: Dust collector emptied" in opened(lead, page("permit"), scene)


def test_only_whoever_runs_the_night_opens_it(scene, guest, stranger, client_of, page) -> None:
    given = posted(scene.night, scene.people["Cy"])
    assert guest.post(page("permit"), given).status_code == 403
    assert client_of(stranger).post(page("permit"), given).status_code == 404
    assert not HotWorkPermit.objects.exists()
