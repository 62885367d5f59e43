"""A shared tablet signs out by itself, and nothing typed on it is lost."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from django.test import Client

from workshops.access.models import Membership, User
from workshops.access.tablets import next_end

HERE = ZoneInfo("America/Chicago")
NIGHTS = "/teal-point/nights/"
pytestmark = pytest.mark.django_db


def signed_in(name: str, **ticks: str) -> Client:
    client = Client()
    client.post("/sign-in/", {"username": name, "password": f"winter-{name}"} | ticks)
    return client


@pytest.fixture
def tablet(coordinator: User, clock: Any) -> Client:
    """Carla on a tablet she said is shared, at 18:00."""
    return signed_in("carla", is_shared="on")


def wait(clock: Any, minutes: float) -> None:
    clock.shift(timedelta(minutes=minutes))


def test_left_lying_it_signs_out_and_says_why(tablet: Client, clock: Any) -> None:
    wait(clock, 31)
    answer = tablet.get(NIGHTS, follow=True)
    assert answer.redirect_chain == [("/sign-in/?next=/teal-point/nights/", 302)]
    assert "left lying for 30 minutes" in answer.content.decode()


def test_in_use_it_stays_signed_in(tablet: Client, clock: Any) -> None:
    for _ in range(4):
        wait(clock, 29)
        assert tablet.get(NIGHTS).status_code == 200


def test_at_the_set_hour_it_signs_out_though_in_use(tablet: Client, clock: Any) -> None:
    for _ in range(11):
        wait(clock, 29)
        answer = tablet.get(NIGHTS, follow=True)
    assert "It is past 23:00" in answer.content.decode()


def test_an_account_of_ones_own_stays_signed_in(coordinator: User, clock: Any) -> None:
    own = signed_in("carla")
    wait(clock, 60 * 24)
    assert own.get(NIGHTS).status_code == 200


def test_a_piece_of_a_page_does_not_get_the_sign_in_page_in_its_place(
    tablet: Client, clock: Any
) -> None:
    wait(clock, 31)
    answer = tablet.get(NIGHTS, headers={"HX-Request": "true"})
    assert answer["HX-Redirect"] == "/sign-in/?next=/teal-point/nights/"


def new_reader(client: Client) -> Any:
    fields = {"username": "rune", "first_name": "Rune", "role": "reader", "password": "sedge-and-7"}
    return client.post("/teal-point/members/", fields)


def test_what_was_typed_is_offered_again_to_the_same_person(tablet: Client, clock: Any) -> None:
    wait(clock, 31)
    assert (
        "What you were sending is not kept yet"
        in tablet.get(new_reader(tablet)["Location"]).content.decode()
    )
    assert not User.objects.filter(username="rune").exists()
    answer = tablet.post(
        "/sign-in/", {"username": "carla", "password": "winter-carla"}, follow=True
    )
    assert answer.redirect_chain[0][0] == "/sign-in/again/"
    assert 'action="/teal-point/members/"' in answer.content.decode()
    assert 'name="username" value="rune"' in answer.content.decode()


def test_a_password_that_was_typed_is_not_kept(tablet: Client, clock: Any) -> None:
    wait(clock, 31)
    new_reader(tablet)
    assert "sedge-and-7" not in str(dict(tablet.session))


def test_what_was_typed_is_not_offered_to_somebody_else(
    tablet: Client, clock: Any, duty_lead: User
) -> None:
    wait(clock, 31)
    new_reader(tablet)
    answer = tablet.post("/sign-in/", {"username": "dov", "password": "winter-dov"}, follow=True)
    assert "rune" not in answer.content.decode()
    assert "shared_typed" not in tablet.session


def test_it_is_offered_once(tablet: Client, clock: Any) -> None:
    wait(clock, 31)
    new_reader(tablet)
    tablet.post("/sign-in/", {"username": "carla", "password": "winter-carla"}, follow=True)
    assert tablet.get("/sign-in/again/")["Location"] == "/"


def test_no_session_of_a_tablet_is_written_at_every_page(
    tablet: Client, clock: Any, django_assert_max_num_queries: Any
) -> None:
    tablet.get(NIGHTS)
    before = tablet.session["shared_seen_at"]
    wait(clock, 0.5)
    tablet.get(NIGHTS)
    assert tablet.session["shared_seen_at"] == before


def test_the_next_end_is_tonight_or_tomorrow_by_the_clock_on_the_wall() -> None:
    assert next_end(datetime(2026, 1, 15, 4, 59, tzinfo=UTC), HERE).isoformat() == (
        "2026-01-14T23:00:00-06:00"
    )
    # Struck just now: tomorrow's, or the tablet could not be signed in at all.
    assert next_end(datetime(2026, 1, 15, 5, 0, tzinfo=UTC), HERE).day == 15
    # The night the clocks go forward is an hour shorter, and still ends at eleven.
    assert next_end(datetime(2026, 3, 8, 5, 30, tzinfo=UTC), HERE).isoformat() == (
        "2026-03-08T23:00:00-05:00"
    )


def test_membership_is_needed_for_no_sign_in(coordinator: User, clock: Any) -> None:
    Membership.objects.all().delete()
    assert signed_in("carla", is_shared="on").session["shared_ends_at"]
