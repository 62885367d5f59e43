"""Home says the one thing to do next, from what is not done yet."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.core.files.base import ContentFile

from inventory.places.models import Shop
from tests import factories
from tests.conftest import NOW
from workshops.home.glance import Glance, glance_at
from workshops.nights.models import HandOver, Night, PlacingRun
from workshops.paper.models import Paper

pytestmark = pytest.mark.usefixtures("clock")


@pytest.fixture
def night(shop: Shop) -> Night:
    return factories.make_night(shop)


def planned(night: Night) -> None:
    night.plan = PlacingRun.objects.create(
        shop=night.shop, night=night, problem={"stations": [], "operations": []}, version="1",
        status="proven", seconds=0.1,
        result={"output": {"made": {}, "sets": {"s": 5.0}, "sets_before": {"s": 2.0}}},
    )  # fmt: skip
    night.save()


def glance(shop: Shop) -> Glance:
    return glance_at(shop, NOW)


def test_an_empty_club_is_led_through_setting_up_from_the_rooms(shop: Shop) -> None:
    empty = glance(shop)
    assert empty.is_being_set_up
    assert empty.next_step.action == "Name the rooms"
    factories.make_room(shop)
    assert glance(shop).next_step.action == "Add a station"


def test_rooms_of_another_shop_set_up_nothing_here(shop: Shop, other_shop: Shop) -> None:
    factories.make_room(other_shop)
    assert glance(shop).next_step.action == "Name the rooms"


def test_a_club_that_is_set_up_is_told_to_add_a_night(shop: Shop) -> None:
    factories.make_operation(factories.make_station(shop))
    factories.make_sheet(shop)
    factories.make_person(shop)
    factories.make_winter(shop)
    assert not glance(shop).is_being_set_up
    assert glance(shop).next_step.action == "Add a night"


def test_an_empty_club_has_nothing_to_show(shop: Shop) -> None:
    empty = glance(shop)
    assert (empty.night, empty.winter, empty.outlook, empty.short) == (None, None, None, [])
    assert not empty.is_tonight


def test_a_night_without_answers_asks_who_comes(shop: Shop, night: Night) -> None:
    assert glance(shop).next_step.action == "Note who comes"


def test_people_without_a_plan_are_to_be_placed(shop: Shop, night: Night) -> None:
    factories.make_sign_up(night, factories.make_person(shop))
    step = glance(shop).next_step
    assert step.action == "Go and place everybody"
    assert step.says.startswith("One person comes")


def test_a_plan_without_cards_asks_for_the_cards(shop: Shop, night: Night) -> None:
    factories.make_sign_up(night, factories.make_person(shop))
    planned(night)
    found = glance(shop)
    assert found.next_step.action == "Print the cards"
    assert found.sets_tonight == 3


def test_with_cards_made_the_winter_is_looked_at_next(shop: Shop, night: Night) -> None:
    factories.make_sign_up(night, factories.make_person(shop))
    planned(night)
    paper = Paper(shop=shop, kind=Paper.Kind.CARDS, night=night)
    paper.file.save("cards.pdf", ContentFile(b"%PDF-1.7"), save=True)
    try:
        assert glance(shop).next_step.action == "Look at the winter"
    finally:
        paper.file.delete()


def test_only_the_shops_own_night_counts(shop: Shop, other_shop: Shop) -> None:
    factories.make_night(other_shop)
    assert glance(shop).night is None


def test_a_night_to_come_is_not_tonight(shop: Shop) -> None:
    factories.make_night(shop, date=factories.TODAY + timedelta(days=3))
    found = glance(shop)
    assert found.night is not None
    assert not found.is_tonight


def test_the_hand_over_of_the_last_night_is_seen_first(shop: Shop, night: Night) -> None:
    before = factories.make_night(shop, date=factories.TODAY - timedelta(days=7), status="closed")
    HandOver.objects.create(night=before, words="Jig J2 is bent.", written_by="Dov")
    found = glance(shop)
    assert found.hand_over is not None
    assert found.hand_over.words == "Jig J2 is bent."
