"""The form of a group, its page, and who may collect whom."""

from __future__ import annotations

from uuid import uuid4

import pytest

from tests.factories import make_minor
from workshops.nights.actions import sign_in
from workshops.nights.models import Group, RollLine
from workshops.people.models import Person

pytestmark = pytest.mark.django_db


def sent(client, url: str, **given) -> str:
    usual = {"name": "Troop 41", "count": "3", "names": "Ann Lee, 14\nBen", "age": "12"}
    usual |= {"new_leaders": "Lars Ask", "papers": "later", "are_here": "on"}
    return client.post(url, usual | {"client_key": uuid4()} | given, follow=True).content.decode()


def test_a_group_is_on_the_roll_after_one_form(scene, lead, page) -> None:
    shown = sent(lead, page("new_group"))
    assert "Troop 41: 4 people are on the list." in shown
    assert "1 name still to be told" in shown
    assert "3 minors, 1 leader: within the club" in shown
    assert RollLine.objects.filter(out_at=None).count() == 4
    ages = Person.objects.filter(groups__isnull=False).order_by("pk").values_list("born_on__year")
    assert [2026 - year for (year,) in ages] == [14, 12, 12]


def test_names_and_papers_are_told_on_its_page(scene, lead, page) -> None:
    sent(lead, page("new_group"))
    group = Group.objects.get()
    last = group.members.order_by("-pk")[0].pk
    url = page("group", group.pk)
    told = lead.post(url, {f"first-{last}": "Cyd", f"last-{last}": "Moe"}, follow=True)
    assert "1 name kept." in told.content.decode()
    papers = lead.post(url, {"papers": "here"}, follow=True).content.decode()
    assert "Papers handed in: 4 waivers kept, and every consent." in papers
    assert "papers missing" not in papers


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"new_leaders": ""}, "name at least one grown-up"),
        ({"names": "A\nB\nC\nD"}, "More names than members"),
        ({"count": "0"}, "greater than or equal to 1"),
    ],
)
def test_what_cannot_be_is_refused_in_words_and_nobody_is_added(
    scene, lead, page, given, told
) -> None:
    before = Person.objects.count()
    assert told in sent(lead, page("new_group"), **given)
    assert Person.objects.count() == before


def test_the_roll_says_who_may_collect_a_minor_in_the_building(scene, lead, page) -> None:
    ada = scene.people["Ada"]
    for person in (make_minor(scene.shop, ada), make_minor(scene.shop, first_name="Nils")):
        sign_in(night=scene.night, person=person, at=scene.at("18:00"))
    shown = lead.get(page("roll")).content.decode()
    assert shown.count("home?</p>") == 2
    assert "Ada R. (not on the roll)</button>" in shown
    assert "Nobody is named who may collect Nils" in shown


def test_the_roll_asks_nobody_about_minors_when_none_is_in(scene, lead, page) -> None:
    assert "home?</p>" not in lead.get(page("roll")).content.decode()
