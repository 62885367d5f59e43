"""Moving one person in one block: offers, refusals in words, locks."""

from __future__ import annotations

import pytest

from tests.factories import make_bar, make_night, make_person, make_station
from workshops.nights import actions
from workshops.nights.models import Night, Placing


@pytest.fixture
def move(scene, page):
    """The address of the page that moves somebody in the first block."""
    return lambda name: page("move", scene.blocks[0].pk, scene.people[name].pk)


def sent(client, url: str, station: object) -> str:
    return client.post(url, {"station": station}, follow=True).content.decode()


def at(scene, name: str) -> list[str]:
    rows = Placing.objects.filter(person=scene.people[name]).select_related("station")
    return [row.station.name for row in rows]


def test_the_page_offers_what_is_open_and_tells_why_the_rest_is_not(scene, lead, move) -> None:
    shown = lead.get(move("Dee")).content.decode()
    assert "Where does Dee R. go at 18:30–19:10?" in shown
    assert "Dee R. has no sign-off for Drill." in shown


def test_a_move_is_made_and_told(scene, lead, move) -> None:
    shown = sent(lead, move("Ada"), scene.drill.pk)
    assert "Ada R. is at Drill for 18:30–19:10." in shown
    assert at(scene, "Ada") == ["Drill"]


def test_a_move_against_the_gate_is_refused_with_its_sentence(scene, lead, move) -> None:
    sent(lead, move("Dee"), scene.tag.pk)
    shown = sent(lead, move("Dee"), scene.drill.pk)
    assert "Dee R. stays where they were. Dee R. has no sign-off for Drill." in shown
    assert at(scene, "Dee") == ["Tag"]


def test_a_bar_is_told_once_however_many_blocks_it_breaks(scene, lead, move) -> None:
    for block in scene.blocks:
        actions.place(
            night=scene.night, block=block, person=scene.people["Ada"], station=scene.drill
        )
    make_bar(scene.people["Ada"], scene.drill, reason="left the key in")
    shown = sent(lead, move("Ada"), scene.drill.pk)
    told = shown.split("stays where they were.")[1].split("</")[0]
    assert told.count("left the key in") == 1


def test_somebody_is_taken_out_of_a_block(scene, lead, move) -> None:
    sent(lead, move("Ada"), scene.drill.pk)
    assert "Ada R. has no place at 18:30–19:10." in sent(lead, move("Ada"), "none")
    assert at(scene, "Ada") == []


@pytest.mark.parametrize("station", ["", "drill", "-1", "999999", "9" * 30])
def test_a_station_that_is_none_is_refused_in_words(scene, lead, move, station) -> None:
    assert "Choose a station from the list." in sent(lead, move("Ada"), station)
    assert at(scene, "Ada") == []


def test_a_station_of_another_shop_is_no_choice(scene, lead, move, other_shop) -> None:
    there = make_station(other_shop)
    assert "Choose a station from the list." in sent(lead, move("Ada"), there.pk)


def test_a_lock_is_let_go_and_set_again(scene, lead, move, page) -> None:
    sent(lead, move("Ada"), scene.drill.pk)
    row = Placing.objects.get()
    for locked in (False, True):
        lead.post(page("lock", row.pk))
        row.refresh_from_db()
        assert row.is_locked is locked


def test_nobody_is_moved_on_a_night_that_is_over(scene, lead, move) -> None:
    Night.objects.update(status=Night.Status.CLOSED)
    for shown in (
        sent(lead, move("Ada"), scene.drill.pk),
        lead.get(move("Ada"), follow=True).content.decode(),
    ):
        assert "The night of Wed Jan 14 is closed." in shown
    assert at(scene, "Ada") == []


def test_a_person_of_another_shop_is_not_found(scene, lead, page, other_shop) -> None:
    there = make_person(other_shop)
    assert lead.get(page("move", scene.blocks[0].pk, there.pk)).status_code == 404


def test_a_block_of_another_night_is_not_found(scene, lead, page, other_shop) -> None:
    block = make_night(other_shop).blocks.first()
    assert lead.get(page("move", block.pk, scene.people["Ada"].pk)).status_code == 404


def test_a_volunteer_moves_nobody(scene, guest, stranger, client_of, move, page) -> None:
    assert guest.post(move("Ada"), {"station": scene.drill.pk}).status_code == 403
    assert client_of(stranger).post(move("Ada"), {"station": scene.drill.pk}).status_code == 404
    actions.place(
        night=scene.night, block=scene.blocks[0], person=scene.people["Ada"], station=scene.drill
    )
    assert guest.post(page("lock", Placing.objects.get().pk)).status_code == 403
