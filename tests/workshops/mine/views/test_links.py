"""A link asked for, mailed, opened once; and what it never tells or opens."""

from __future__ import annotations

import re
from datetime import timedelta

import pytest
from django.conf import settings
from django.core import mail
from django.test import Client

from tests.factories import make_member, make_minor, make_person
from workshops.access.models import Membership, User
from workshops.common.models import Job
from workshops.mine.links import token_of
from workshops.mine.models import Link
from workshops.people.models import Person

pytestmark = pytest.mark.django_db(transaction=True)

ASK = "/link/"


@pytest.fixture
def una(shop, clock) -> Person:
    """Una, who has no account."""
    return make_person(shop, first_name="Una", last_name="Holt", email="una@example.org")


def ask(email: str = "una@example.org") -> str:
    return Client().post(ASK, {"email": email}).content.decode()


def mailed() -> str:
    """The address of the link in the last letter."""
    return re.search(r"http://testserver(/link/\S+/)", mail.outbox[-1].body).group(1)


def go_in(person: Person, link: str, client: Client | None = None, **given: str):
    return (client or Client()).post(link, {"person": person.pk, **given})


def test_somebody_without_an_account_gets_one_at_the_first_use_and_no_password(una) -> None:
    ask()
    link = mailed()
    una.refresh_from_db()
    assert una.user is None
    assert go_in(una, link)["Location"] == "/teal-point/my/"
    una.refresh_from_db()
    assert not una.user.has_usable_password()
    assert una.user.memberships.get().role == Membership.Role.VOLUNTEER
    ask()
    go_in(una, mailed())
    assert User.objects.filter(person=una).count() == 1


def test_the_page_says_the_same_for_an_address_nobody_knows_and_sends_nothing(una) -> None:
    pages = [re.sub(r"[A-Za-z0-9]{64}", "", ask(email)) for email in ("una@example.org", "x@y.org")]
    assert pages[0] == pages[1]
    assert [letter.to for letter in mail.outbox] == [["una@example.org"]]


def test_a_link_opens_once(una) -> None:
    ask()
    link = mailed()
    go_in(una, link)
    again = go_in(una, link)
    assert again.status_code == 422
    assert "This link is used or too old" in again.content.decode()
    assert "This link opens nothing" in Client().get(link).content.decode()


def test_looking_at_a_link_does_not_use_it_up(una) -> None:
    ask()
    for _ in range(2):
        assert "Go in as Una Holt" in Client().get(mailed()).content.decode()
    assert go_in(una, mailed()).status_code == 302


def test_a_link_grows_old(una, clock) -> None:
    ask()
    clock.shift(settings.SESAME_MAX_AGE + 1)
    assert go_in(una, mailed()).status_code == 422


@pytest.mark.parametrize("change", [lambda link: link[:-3] + "aa/", lambda link: "/link/nothing/"])
def test_a_link_that_was_tampered_with_opens_nothing(una, change) -> None:
    ask()
    assert go_in(una, change(mailed())).status_code == 422
    assert "opens nothing" in Client().get(change(mailed())).content.decode()


def test_a_parent_and_a_child_with_one_address_are_asked_who_it_is(una, shop) -> None:
    child = make_minor(shop, una, first_name="Ulf", last_name="Holt", email="UNA@example.org")
    ask()
    page = Client().get(mailed()).content.decode()
    assert ("Who are you?" in page, "Go in as Ulf Holt" in page) == (True, True)
    client = Client()
    go_in(child, mailed(), client)
    child.refresh_from_db()
    assert int(client.session["_auth_user_id"]) == child.user.pk


def test_a_link_opens_nobody_of_another_address(una, shop) -> None:
    other = make_person(shop, email="other@example.org")
    ask()
    assert go_in(other, mailed()).status_code == 422
    assert go_in(una, mailed()).status_code == 302


@pytest.mark.parametrize("role", ["coordinator", "duty_lead", "storekeeper", "authoriser"])
def test_whoever_may_do_more_than_a_volunteer_signs_in_with_a_password(una, shop, role) -> None:
    una.user = make_member(shop, "una", role)
    una.save()
    ask()
    assert "/link/" not in mail.outbox[-1].body
    assert "http://testserver/sign-in/" in mail.outbox[-1].body
    # The role may have been given after the letter was sent: it is asked again.
    assert go_in(una, f"/link/{token_of(Link.objects.get())}/").status_code == 422


@pytest.mark.parametrize("change", ["off", "gone", "staff", "elsewhere"])
def test_an_account_that_was_switched_off_or_may_more_elsewhere_is_not_opened(
    una, shop, other_shop, change
) -> None:
    una.user = make_member(shop, "una", "volunteer")
    una.save()
    User.objects.update(is_active=change != "off", is_staff=change == "staff")
    if change == "gone":
        una.user.memberships.all().delete()
    if change == "elsewhere":
        Membership.objects.create(user=una.user, shop=other_shop, role="coordinator")
    ask()
    assert go_in(una, f"/link/{token_of(Link.objects.get())}/").status_code == 422


def test_asking_is_throttled_and_nobody_is_told(una) -> None:
    pages = {re.sub(r"[A-Za-z0-9]{64}", "", ask()) for _ in range(settings.LINKS_AN_HOUR + 2)}
    assert len(pages) == 1
    assert len(mail.outbox) == settings.LINKS_AN_HOUR


def test_a_new_hour_may_ask_again(una, clock) -> None:
    for _ in range(settings.LINKS_AN_HOUR + 1):
        ask()
    clock.shift(timedelta(hours=1, seconds=1))
    ask()
    assert len(mail.outbox) == settings.LINKS_AN_HOUR + 1


def test_neither_the_address_nor_the_link_stands_in_the_job(una) -> None:
    ask()
    job = Job.objects.get(kind="mail_link")
    assert job.state == Job.State.DONE
    told = f"{job.arguments} {job.result} {job.message}"
    assert ("@" in told, mailed() in told) == (False, False)


def test_on_a_shared_tablet_the_session_ends_and_on_ones_own_it_lasts(una, clock) -> None:
    shared, own = Client(), Client()
    ask()
    go_in(una, mailed(), shared)
    ask()
    go_in(una, mailed(), own, own="yes")
    clock.shift(settings.SHARED_TABLET_IDLE_MINUTES * 60 + 120)
    codes = [client.get("/teal-point/my/").status_code for client in (shared, own)]
    assert codes == [302, 200]
    clock.shift(timedelta(days=settings.LINK_OWN_DEVICE_DAYS))
    assert own.get("/teal-point/my/").status_code == 302


def test_whoever_came_in_by_a_link_may_no_more_than_a_volunteer(una) -> None:
    client = Client()
    ask()
    go_in(una, mailed(), client)
    pages = ("people/", "stock/", f"people/{una.pk}/", "nights/add/", "members/")
    assert {client.get(f"/teal-point/{page}").status_code for page in pages} == {403}
