"""Train next: one-person jobs, and cover of the nights ahead."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from inventory.places.models import Shop
from tests.factories import TODAY, make_sign_off, make_station
from tests.workshops.training.conftest import ready, week
from workshops.people.models import Person
from workshops.stations.models import Level, Station
from workshops.training.covering import Cover, learners_of, look_ahead, train_next
from workshops.training.queries import overview_of


def covers(shop: Shop) -> dict[str, Cover]:
    ahead = look_ahead(shop, TODAY)
    return {each.station.name: each for each in train_next(ahead, learners_of(ahead))}


def test_a_night_is_covered_when_enough_who_can_have_said_yes(
    shop: Shop, drill: Station, ada: Person, arno: Person, say_yes: Callable[..., None]
):
    say_yes(ada, on=(0, 2))
    say_yes(arno, on=(2,))
    found = covers(shop)["Drill"]
    assert (found.covered, found.open_nights, found.hands) == (2, 4, ["Ada R.", "Arno R."])
    drill.crew_min = 2
    drill.save()
    assert covers(shop)["Drill"].covered == 1


def test_a_sign_off_that_ends_before_the_night_does_not_cover_it(
    shop: Shop, drill: Station, say_yes: Callable[..., None]
):
    una = ready(shop, "Una")
    make_sign_off(una, drill, valid_until=week(1))
    say_yes(una)
    assert covers(shop)["Drill"].covered == 2


def test_a_station_closed_by_the_kind_of_night_is_not_missed(shop: Shop, ada: Person, nights: Any):
    make_station(shop, name="Roll", is_straw=True, level_needed=Level.ALONE)
    nights[0].kind = "steel"
    nights[0].save()
    assert covers(shop)["Roll"].open_nights == 3


def test_who_carries_a_station_alone_is_said_by_name_and_nights(
    shop: Shop, ada: Person, say_yes: Callable[..., None]
):
    say_yes(ada, on=(0, 1, 3))
    found = covers(shop)["Drill"]
    assert found.is_alone
    assert found.hangs_on == "Only Ada R. can, and is down for 3 of the 4 nights ahead."


def test_one_person_jobs_come_first_and_then_the_seldom_covered(
    shop: Shop, ada: Person, arno: Person, say_yes: Callable[..., None]
):
    say_yes(ada, arno)
    bend = make_station(shop, name="Bend", level_needed=Level.ALONE)
    make_sign_off(ada, bend)
    weld = make_station(shop, name="Weld", level_needed=Level.ALONE)
    for name in ("Uma", "Ugo"):
        make_sign_off(ready(shop, name), weld)
    assert list(covers(shop)) == ["Bend", "Weld", "Drill"]


def test_the_overview_takes_as_many_queries_for_many_people(
    shop: Shop, drill: Station, ada: Person, say_yes: Any, django_assert_num_queries: Any
):
    for _ in range(2):
        for number in range(5):
            person = ready(shop, f"Guest{number}")
            make_sign_off(person, drill, Level.WITH_A_LEAD)
            say_yes(person)
        with django_assert_num_queries(15):
            overview_of(shop, TODAY)


def test_a_shop_without_stations_has_nothing_to_train_for(shop: Shop):
    overview = overview_of(shop, TODAY)
    assert (overview.covers, overview.near, overview.alone) == ([], [], [])
