"""A group on the list and on the roll in one go, and once."""

from __future__ import annotations

from datetime import date
from uuid import uuid4

import pytest

from tests.factories import make_minor, make_person, make_waiver
from workshops.club.actions import set_rule
from workshops.nights.actions.group import (
    Member,
    NewGroup,
    hand_in_papers,
    name_members,
    sign_up_group,
)
from workshops.nights.groups import group_page, ratio_of
from workshops.nights.models import Group, RollLine, SignUp
from workshops.nights.refusals import NightRefused
from workshops.people.gate import may
from workshops.people.models import Guardianship, Person, Waiver

pytestmark = pytest.mark.django_db

SCOUTS = [Member("Ann", "Lee", 14), Member("Ben", "Lee", 12), Member(age=13)]


def troop(**fields) -> NewGroup:
    usual = {"name": "Troop 41", "members": SCOUTS, "new_leaders": [Member("Lars", "Ask")]}
    return NewGroup(**(usual | fields))


def come(scene, by=None, **fields) -> Group:
    return sign_up_group(night=scene.night, new=troop(**fields), by=by, at=scene.at("18:00"))


def ask_for_consent(scene) -> None:
    set_rule(
        shop=scene.shop, key="consent_needed", value=True, decided_by="the committee",
        decided_on=date(2025, 10, 1), source="the insurer", by=None,
    )  # fmt: skip


def test_everybody_is_on_the_list_and_those_who_are_here_on_the_roll(scene) -> None:
    group = come(scene, are_here=True)
    names = [str(person) for person in group.members.order_by("pk")]
    assert names == ["Ann Lee", "Ben Lee", "Guest 3 of Troop 41"]
    assert RollLine.objects.filter(night=scene.night, out_at=None).count() == 4


def test_a_group_that_comes_next_week_is_signed_up_and_not_on_the_roll(scene) -> None:
    come(scene)
    assert not RollLine.objects.exists()
    assert SignUp.objects.filter(person__in=Group.objects.get().members.all()).count() == 3


def test_sent_twice_it_is_one_group(scene) -> None:
    key = uuid4()
    before = Person.objects.count()
    assert come(scene, client_key=key) == come(scene, client_key=key)
    assert Person.objects.count() == before + 4


def test_an_age_told_makes_nobody_older_than_they_are(scene) -> None:
    come(scene)
    ann = Person.objects.get(first_name="Ann")
    assert (ann.born_on, ann.age_on(date(2026, 1, 14))) == (date(2012, 1, 14), 14)
    assert "reckoned from the age told, 14" in ann.note


def test_whoever_is_of_age_is_taken_at_their_word_and_an_unknown_age_counts_as_a_minor(
    scene,
) -> None:
    come(scene, members=[Member("Old", "Lee", 18), Member("Odd", "Lee")])
    adults = dict(
        Person.objects.filter(last_name="Lee").values_list("first_name", "is_adult_declared")
    )
    assert adults == {"Old": True, "Odd": False}
    assert Guardianship.objects.get().minor.first_name == "Odd"


def test_without_papers_nobody_of_them_works(scene) -> None:
    ask_for_consent(scene)
    group = come(scene, are_here=True)
    page = group_page(group)
    assert (page.missing, page.unnamed) == (4, 1)
    answer = may(group.members.first(), scene.tag, scene.night.date)
    assert {reason.rule for reason in answer.reasons} >= {"waiver", "consent"}


def test_papers_handed_in_open_the_work_that_takes_no_sign_off(scene) -> None:
    ask_for_consent(scene)
    group = come(scene)
    assert hand_in_papers(group=group, by=None, at=scene.at("18:20")) == 4
    assert group_page(group).missing == 0
    assert may(group.members.first(), scene.tag, scene.night.date).ok
    assert not may(group.members.first(), scene.weld, scene.night.date).ok


def test_a_leader_whose_waiver_counts_signs_none_again(scene) -> None:
    leader = make_person(scene.shop)
    make_waiver(leader)
    come(scene, leaders=[leader], new_leaders=[], papers_here=True)
    assert Waiver.objects.filter(person=leader).count() == 1


def test_each_leader_answers_for_each_minor_and_may_collect(scene) -> None:
    come(scene, new_leaders=[Member("Lars", "Ask"), Member("Una", "Ask")])
    assert Guardianship.objects.filter(may_collect=True).count() == 6


def test_the_same_troop_a_week_later_is_the_same_people(scene) -> None:
    first = come(scene, members=SCOUTS[:2])
    again = come(scene, members=SCOUTS[:2])
    assert set(first.members.all()) == set(again.members.all())
    assert set(first.leaders.all()) == set(again.leaders.all())


def test_a_child_of_that_name_who_is_not_of_the_group_is_somebody_else(scene) -> None:
    other = make_minor(scene.shop, first_name="Ann", last_name="Lee")
    assert other not in come(scene).members.all()


def test_names_are_told_later(scene) -> None:
    group = come(scene)
    pk = group.members.get(first_name="Guest 3 of Troop 41").pk
    name_members(group=group, told={pk: Member("Cyd", "Moe")}, by=None, at=scene.at("19:00"))
    cyd = Person.objects.get(pk=pk)
    assert (str(cyd), cyd.age_on(date(2026, 1, 14))) == ("Cyd Moe", 13)


def test_nobody_outside_the_group_is_named_there(scene) -> None:
    group, ada = come(scene), scene.people["Ada"]
    with pytest.raises(NightRefused, match="not of Troop 41"):
        name_members(group=group, told={ada.pk: Member("X")}, by=None, at=scene.at("19:00"))


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"new_leaders": []}, "name at least one grown-up"),
        ({"members": []}, "between 1 and 60"),
        ({"members": [Member()] * 61}, "between 1 and 60"),
        ({"name": " "}, "what the group is called"),
    ],
)
def test_a_group_without_leader_members_or_name_is_refused(scene, change, says) -> None:
    before = Person.objects.count()
    with pytest.raises(NightRefused, match=says):
        come(scene, **change)
    assert Person.objects.count() == before


def test_a_minor_leads_no_group_and_nobody_of_another_shop(scene, other_shop) -> None:
    with pytest.raises(NightRefused, match="does not count as an adult"):
        come(scene, leaders=[make_minor(scene.shop)])
    with pytest.raises(NightRefused, match="not on this shop's list"):
        come(scene, leaders=[make_person(other_shop)])


@pytest.mark.parametrize(
    ("minors", "adults", "most", "says"),
    [
        (12, 2, 5, "one free adult for 5, so 1 more adult must stay free"),
        (10, 2, 5, "within the club's one free adult for 5"),
        (11, 1, 5, "so 2 more adults must"),
        (1, 1, None, "has set no number"),
        (0, 2, 5, ""),
    ],
)
def test_the_ratio_of_the_club_is_said(minors, adults, most, says) -> None:
    told = ratio_of(minors, adults, most)
    assert says in told
    assert bool(told) == bool(says)


def test_the_page_takes_the_same_queries_for_any_group(scene, django_assert_num_queries) -> None:
    small, large = come(scene, members=SCOUTS[:1]), come(scene, members=[Member(age=12)] * 12)
    for group in (small, large):
        with django_assert_num_queries(11):
            group_page(Group.objects.select_related("night", "shop").get(pk=group.pk))
