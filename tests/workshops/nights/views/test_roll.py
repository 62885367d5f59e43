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


def test_somebody_who_did_not_sign_up_is_found_by_the_first_letters(scene, lead, page) -> None:
    fay = make_person(scene.shop, first_name="Zoé", last_name="Ström-Lund")
    make_waiver(fay)
    for typed in ("zoe", "ZOÉ", "lund", "str z"):
        shown = text(lead, f"{page('roll')}?q={typed}")
        assert f'form="wb-in" name="person" value="{fay.pk}"' in shown
    assert "Nobody on the list is called that." in text(lead, f"{page('roll')}?q=oe")
    sent(lead, page("sign_in"), fay.pk)
    assert RollLine.objects.get().person == fay
    assert "is in</span>" in text(lead, f"{page('roll')}?q=zoe")


WALK_IN = {"first_name": "Fay", "last_name": "Low", "is_adult": "yes", "has_signed": "on"}


def test_a_walk_in_is_on_the_list_and_in_with_one_press(scene, lead, page) -> None:
    shown = lead.post(page("door_walk_in"), WALK_IN, follow=True).content.decode()
    assert "Fay L. is in." in shown
    assert "no waiver" not in shown
    line = RollLine.objects.get()
    assert (str(line.person), line.person.is_adult_declared) == ("Fay Low", True)
    assert line.person.waivers.get().version == "2026"


def test_a_young_walk_in_without_papers_is_in_and_told_of(scene, lead, page) -> None:
    given = {"first_name": "Tim", "is_adult": "no", "age": "13"}
    shown = lead.post(page("door_walk_in"), given, follow=True).content.decode()
    assert "Tim has no waiver that counts" in shown
    assert "no guardian is in yet" in shown
    assert RollLine.objects.get().person.age_on(scene.night.date) == 13


def test_a_walk_in_of_a_known_name_is_asked_about_first(scene, lead, page) -> None:
    given = WALK_IN | {"first_name": "Ada", "last_name": "Reed"}
    asked = lead.post(page("door_walk_in"), given)
    assert asked.status_code == 422
    assert "Somebody of that name is on the list." in asked.content.decode()
    assert 'name="is_another" value="on"' in asked.content.decode()
    assert not RollLine.objects.exists()
    lead.post(page("door_walk_in"), given | {"is_another": "on"})
    assert RollLine.objects.get().person != scene.people["Ada"]


def test_the_waiver_is_signed_on_the_line_itself(scene, lead, page) -> None:
    fay = make_person(scene.shop, first_name="Fay", last_name="Low")
    assert "Signed it here, just now" in sent(lead, page("sign_in"), fay.pk)
    shown = lead.post(page("signed_here", fay.pk), follow=True).content.decode()
    assert "The waiver of Fay L. is kept." in shown
    assert "Signed it here" not in shown


def test_a_minor_goes_only_once_it_is_said_with_whom(scene, lead, page) -> None:
    mina = make_minor(scene.shop, scene.people["Ada"], last_name="Low")
    sent(lead, page("sign_in"), mina.pk)
    assert "Who takes Mina L. home?" in sent(lead, page("sign_out"), mina.pk)
    assert RollLine.objects.get().out_at is None
    given = {"person": mina.pk, "collected_by": scene.people["Ada"].pk}
    shown = lead.post(page("sign_out"), given, follow=True).content.decode()
    assert "is not named" not in shown
    assert RollLine.objects.get().collected_by == scene.people["Ada"]
    assert "with Ada R." in shown


def test_somebody_not_named_who_takes_a_minor_home_is_written_down_and_warned_of(
    scene, lead, page
) -> None:
    mina = make_minor(scene.shop, scene.people["Ada"], last_name="Low")
    sent(lead, page("sign_in"), mina.pk)
    given = {"person": mina.pk, "collected_word": "her uncle Sam"}
    shown = lead.post(page("sign_out"), given, follow=True).content.decode()
    assert "her uncle Sam is not named as somebody who may collect Mina L.: ring" in shown
    assert RollLine.objects.get().collected_word == "her uncle Sam"


def test_a_wrong_tap_is_taken_back(scene, lead, page, clock) -> None:
    sent(lead, page("sign_in"), scene.people["Ada"].pk)
    clock.shift(3600)
    sent(lead, page("sign_out"), scene.people["Ada"].pk)
    line = RollLine.objects.get()
    shown = lead.post(page("take_back", line.pk), follow=True).content.decode()
    assert "Ada R. is in again." in shown
    assert "1 in now" in shown


def test_who_went_home_without_a_word_is_out_at_the_stop_as_guessed(
    scene, lead, page, clock
) -> None:
    ada = scene.people["Ada"]
    sent(lead, page("sign_in"), ada.pk)
    assert "forgot to sign out" not in text(lead, page("roll"))
    clock.shift(2.75 * 3600)
    assert "Somebody forgot to sign out?" in text(lead, page("roll"))
    shown = sent(lead, page("forgotten"), ada.pk)
    assert "1 signed out at the stop, marked as guessed." in shown
    assert "until 20:30, guessed, 150 minutes" in shown


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
