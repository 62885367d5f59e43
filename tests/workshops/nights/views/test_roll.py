"""Who is in the building? In, out, walk-ins, and the list that prints."""

from __future__ import annotations

import re

from tests.factories import make_minor, make_person, make_waiver
from workshops.nights.models import RollLine


def text(client, url: str) -> str:
    return client.get(url).content.decode()


def sent(client, url: str, person: object) -> str:
    return client.post(url, {"person": person}, follow=True).content.decode()


def test_whoever_comes_in_moves_from_expected_to_inside(scene, lead, page, clock) -> None:
    shown = sent(lead, page("sign_in"), scene.people["Ada"].pk)
    assert "Ada R. is in." in shown
    assert "1 in now" in shown
    assert "since 18:00" in shown
    assert re.search(r"Ada R\. goes out", shown)


def test_two_of_one_name_are_told_apart_on_the_roll(scene, lead, page) -> None:
    other = make_person(scene.shop, first_name="Ada", last_name="Rowan")
    make_waiver(other)
    assert "Ada Ro. is in." in sent(lead, page("sign_in"), other.pk)
    shown = text(lead, page("roll"))
    assert "Ada Re. comes in" in shown
    assert "Ada Ro. goes out" in shown


def test_going_out_is_thanked(scene, lead, page, clock) -> None:
    sent(lead, page("sign_in"), scene.people["Ada"].pk)
    clock.shift(3600)
    shown = sent(lead, page("sign_out"), scene.people["Ada"].pk)
    assert "Ada R. is out. Thank you!" in shown
    assert "Went home" in shown
    assert "19:00" in shown


def test_what_to_see_to_first_is_said_at_the_door(scene, lead, page) -> None:
    mina = make_minor(scene.shop, last_name="Low")
    shown = sent(lead, page("sign_in"), mina.pk)
    assert "Mina L. has no waiver that counts" in shown
    assert "no guardian is in yet" in shown


def test_somebody_who_did_not_sign_up_is_chosen_from_the_list(scene, lead, page) -> None:
    fay = make_person(scene.shop, first_name="Fay")
    make_waiver(fay)
    assert f'<option value="{fay.pk}">' in text(lead, page("roll"))
    sent(lead, page("sign_in"), fay.pk)
    assert RollLine.objects.get().person == fay


def test_a_walk_in_is_added_from_here_by_whoever_may(scene, boss, page) -> None:
    shown = text(boss, page("roll"))
    assert "/teal-point/people/walk-in/" in shown
    assert boss.get("/teal-point/people/walk-in/").status_code == 200


def test_nobody_chosen_is_told(scene, lead, page) -> None:
    assert "Choose who comes in from the list." in sent(lead, page("sign_in"), "")
    assert "Choose who goes out from the list." in sent(lead, page("sign_out"), "nobody")
    assert not RollLine.objects.exists()


def test_going_out_without_being_in_is_told(scene, lead, page) -> None:
    assert "is not on the roll now" in sent(lead, page("sign_out"), scene.people["Ada"].pk)


def test_somebody_of_another_shop_cannot_be_signed_in(scene, lead, page, other_shop) -> None:
    shown = sent(lead, page("sign_in"), make_person(other_shop).pk)
    assert "Choose who comes in from the list." in shown


def test_the_roll_is_for_whoever_runs_the_night(scene, guest, stranger, client_of, page) -> None:
    ada = {"person": scene.people["Ada"].pk}
    assert guest.get(page("roll")).status_code == 403
    assert guest.post(page("sign_in"), ada).status_code == 403
    assert client_of(stranger).get(page("roll")).status_code == 404
    assert client_of(stranger).post(page("sign_in"), ada).status_code == 404
    assert not RollLine.objects.exists()
