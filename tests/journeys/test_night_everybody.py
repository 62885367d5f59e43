"""Reading no English, telling no colours apart: the night is everybody's all the same.

Somebody who cannot stand, and somebody who does not hear the alarm, are in
``test_night_placing`` and ``test_night_roll``.
"""

from __future__ import annotations

import re
from uuid import uuid4

import pytest
from django.test import Client

from tests.workshops.nights.scene import Scene, bring_material, make_scene
from tests.workshops.paper.reading import pages_of, squeezed
from workshops.common.templatetags.winterbench import STATES
from workshops.nights import actions
from workshops.nights.models import Placing
from workshops.paper.models import Paper
from workshops.stations.card_texts import CARD_TEXTS
from workshops.stations.models import Level

pytestmark = pytest.mark.django_db
NIGHT = "/teal-point/nights/2026-01-14"
BADGE = re.compile(r'<\w+ [^>]*?class="(?=[^"]*\bwb-state(?![\w-]))([^"]*)"[^>]*>')
# The mark comes first, for eyes; the word after it is for everybody.
TOLD = re.compile(r'\s*<span class="wb-state-shape" aria-hidden="true">([^<]+)</span>\s*([^<]*\w)')


@pytest.fixture
def scene(shop, clock) -> Scene:
    """Ada at the drill for the whole night, with the words that a drill's card begins with."""
    scene = make_scene(shop, people=False)
    scene.join("Ada", (scene.drill, Level.MAY_LEAD))
    bring_material(scene)
    drill = scene.operations["drill"]
    drill.steps = [step.as_row() for step in CARD_TEXTS["drill"].steps]
    drill.first_piece, drill.bad_piece = "Ask Ada for the brass pin.", CARD_TEXTS["drill"].bad_piece
    drill.check_every = 5
    drill.save()
    actions.plan_night(night=scene.night, by=None)
    Placing.objects.all().delete()
    clock.shift(45 * 60)
    actions.sign_in(night=scene.night, person=scene.people["Ada"], at=scene.at("18:05"))
    for block in scene.blocks:
        actions.place(
            night=scene.night, block=block, person=scene.people["Ada"], station=scene.drill,
            is_locked=False,
        )  # fmt: skip
    return scene


@pytest.fixture
def lead(duty_lead, client_of) -> Client:
    return client_of(duty_lead)


def printed(lead: Client, scene: Scene, on_commit, **given: str) -> list[str]:
    """The pages of the cards asked for on the paper page."""
    with on_commit(execute=True):
        lead.post("/teal-point/paper/cards/", {"night": scene.night.pk, **given})
    paper = Paper.objects.get()
    answer = lead.get(f"/teal-point/paper/{paper.pk}/")
    return pages_of(b"".join(answer.streaming_content))


def test_who_reads_no_english_has_the_card_of_the_station_in_spanish(
    lead, scene, django_capture_on_commit_callbacks
) -> None:
    assert "Spanish on the back" in lead.get("/teal-point/paper/").text
    front, back = printed(lead, scene, django_capture_on_commit_callbacks, back="es")
    assert squeezed("Take off gloves, tie hair and sleeves") in front
    for said in (
        "Quítese los guantes, recójase el pelo y las mangas", "Taladre la primera pared",
        "Mala: El pasador entra por una pared y no por la otra", "Ada R", "página 2 de 2",
        "Si algo se ve mal, pare el trabajo: cualquiera puede hacerlo.",
        "Primera pieza: [en inglés] Ask Ada for the brass pin.",
    ):  # fmt: skip
        assert squeezed(said) in back


def test_a_language_nobody_wrote_is_refused(lead, scene) -> None:
    answer = lead.post("/teal-point/paper/cards/", {"night": scene.night.pk, "back": "xx"})
    assert answer.status_code == 404
    assert not Paper.objects.exists()


@pytest.mark.parametrize("page", ["", "tonight/", "flow/", "permit/", "checks/"])
def test_who_tells_no_colours_apart_reads_every_state_by_word_and_shape(
    page: str, lead, scene
) -> None:
    drill, key = scene.operations["drill"].pk, str(uuid4())
    lead.post(f"{NIGHT}/tally/", {"operation": drill, "good": 6, "client_key": key})
    shown = lead.get(f"{NIGHT}/{page}").text
    badges = list(BADGE.finditer(shown))
    assert badges, page
    for badge in badges:
        told = TOLD.match(shown, badge.end())
        assert told, shown[badge.start() : badge.end() + 200]
        [state] = [name for name in STATES if f"wb-state--{name}" in badge[1].split()]
        assert told[1] == STATES[state][1]
