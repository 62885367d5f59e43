"""Who comes: mixed skills, the cases that make a night hard, and the sign-ins."""

from __future__ import annotations

from collections import Counter

import pytest

from inventory.places.models import Shop
from tests.workshops.home.demo.conftest import TODAY
from workshops.access.models import Membership, User
from workshops.home.demo.people import DEMO_PASSWORD, sign_ins
from workshops.people.gate import Doing, register_on
from workshops.people.models import Person, SignOff
from workshops.stations.models import Level, Station


def station(demo: Shop, slug: str) -> Station:
    return Station.objects.get(shop=demo, slug=slug)


def who_may(demo: Shop, slug: str, doing: Doing = Doing.WORKS) -> set[str]:
    """First names of everybody whom no rule stops tonight."""
    found = register_on(demo, TODAY).who_may(station(demo, slug).pk, doing)
    return set(Person.objects.filter(pk__in=found).values_list("first_name", flat=True))


def test_about_forty_five_people_come(demo: Shop) -> None:
    assert 43 <= Person.objects.filter(shop=demo).count() <= 48


def test_two_minors_each_have_a_guardian_with_a_consent(demo: Shop) -> None:
    minors = [person for person in demo.person_set.all() if (person.age_on(TODAY) or 99) < 18]
    assert sorted(person.age_on(TODAY) for person in minors) == [13, 15]
    for minor in minors:
        assert minor.guardianships.exists()
        assert not minor.guardianships.filter(consent_on=None).exists()


def test_one_keeps_away_from_dust_one_sits_and_one_lifts_nothing(demo: Shop) -> None:
    people = Person.objects.filter(shop=demo)
    assert people.get(no_dust=True).first_name == "Philippa"
    assert people.get(seated_only=True).first_name == "Efrain"
    assert people.get(no_heavy=True).first_name == "Gudrun"


def test_exactly_one_person_may_bend(demo: Shop) -> None:
    assert who_may(demo, "bend") == {"Hollis"}
    assert who_may(demo, "bend", Doing.LEARNS) == {"Hollis"}


def test_a_welder_has_lapsed_and_says_so(demo: Shop) -> None:
    lapsed = Person.objects.get(shop=demo, first_name="Waldemar")
    answer = register_on(demo, TODAY).answer(lapsed.pk, station(demo, "weld").pk)
    assert not answer.ok
    assert "lapsed" in answer.reasons[0].text
    assert who_may(demo, "weld") == {"Lucjan", "Solveig", "Jerome"}


def test_a_driller_is_barred_though_signed_off(demo: Shop) -> None:
    driller = Person.objects.get(shop=demo, first_name="Casimir")
    answer = register_on(demo, TODAY).answer(driller.pk, station(demo, "drill").pk)
    assert [reason.rule for reason in answer.reasons] == ["barred"]
    assert answer.level == Level.MAY_LEAD


def test_two_waivers_have_run_out_and_a_newcomer_has_none(demo: Shop) -> None:
    facts = register_on(demo, TODAY).people.values()
    without = {person.name for person in facts if not person.has_waiver}
    assert without == {"Nkechi Adeyemo", "Elspeth Crannach", "Corwin Blakestad"}


def test_two_people_are_called_alike_on_the_wall(demo: Shop) -> None:
    names = Counter(person.short_name for person in demo.person_set.all())
    assert [name for name, count in names.items() if count > 1] == ["Ana B."]


@pytest.mark.parametrize("slug", ["saw", "drill", "weld", "bend", "fire-watch", "roll", "fill"])
def test_somebody_may_sign_others_at_every_station_that_matters(demo: Shop, slug: str) -> None:
    assert who_may(demo, slug, Doing.SIGNS)


def test_learners_and_walk_ins_are_among_them(demo: Shop) -> None:
    assert SignOff.objects.filter(shop=demo, level=Level.WITH_A_LEAD).count() >= 6
    assert Person.objects.filter(shop=demo, sign_offs=None).count() >= 5


def test_nobody_signed_for_himself_and_every_signer_may_sign(demo: Shop) -> None:
    signed = SignOff.objects.filter(shop=demo).exclude(signed_by=None)
    assert signed.exists()
    for row in signed.select_related("signed_by"):
        held = row.signed_by.sign_offs.filter(station=row.station, level=Level.MAY_SIGN)
        assert row.signed_by != row.person
        assert held.exists()


def test_there_is_a_sign_in_for_every_role(demo: Shop) -> None:
    roles = dict(sign_ins())
    assert sorted(roles.values()) == sorted(Membership.Role.values)
    for username, role in roles.items():
        user = User.objects.get(username=username)
        assert user.memberships.get(shop=demo).role == role
        assert user.email.endswith("@example.org")


def test_the_password_of_the_demo_opens_an_account(demo: Shop) -> None:
    user = User.objects.get(username="coordinator")
    assert user.check_password(DEMO_PASSWORD)
    assert not user.is_staff


def test_nobody_can_be_written_to(demo: Shop) -> None:
    emails = Person.objects.filter(shop=demo).values_list("email", flat=True)
    assert emails
    assert all(email.endswith("@example.org") for email in emails)
