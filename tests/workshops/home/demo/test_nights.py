"""The nights: what is behind agrees with the rules, and tonight is ready to be planned."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise

import pytest

from inventory.places.models import Room, Shop
from tests.workshops.home.demo.conftest import TODAY
from workshops.nights.engine.rules import breaches
from workshops.nights.loading import load
from workshops.nights.models import HotWorkPermit, Night, Placing, RollLine, SignUp, Tally
from workshops.season.models import Winter
from workshops.stations.models import Station


def this_winters(demo: Shop) -> list[Night]:
    winter = Winter.objects.filter(shop=demo).latest("starts_on")
    return list(Night.objects.filter(shop=demo, date__gte=winter.starts_on))


def test_there_are_eighteen_weeknights_and_three_saturdays(demo: Shop) -> None:
    days = Counter(night.date.weekday() == 5 for night in this_winters(demo))
    assert days == {False: 18, True: 3}


def test_ten_nights_were_held_and_one_was_lost_to_snow(demo: Shop) -> None:
    behind = [night for night in this_winters(demo) if night.date < TODAY]
    assert Counter(night.status for night in behind) == {"closed": 10, "cancelled": 1}
    assert {night.kind for night in behind} == {"steel", "straw", "mixed"}


def test_every_night_has_blocks_with_a_break_between_them(demo: Shop) -> None:
    nights = Night.objects.filter(shop=demo).prefetch_related("blocks")
    assert nights
    for night in nights:
        blocks = list(night.blocks.all())
        assert 3 <= len(blocks) <= 4
        assert any(one.ends < two.starts for one, two in pairwise(blocks))


def test_tonight_is_planned_for_by_about_twenty_six_people(demo: Shop) -> None:
    tonight = Night.objects.get(shop=demo, date=TODAY)
    answers = Counter(tonight.sign_ups.values_list("answer", flat=True))
    assert tonight.status == Night.Status.PLANNED
    assert 24 <= answers["yes"] + answers["maybe"] <= 30
    assert answers["no"] >= 5
    assert tonight.sign_ups.exclude(arrives=None).exists()
    assert tonight.sign_ups.exclude(leaves=None).exists()
    assert not tonight.roll.exists()


def test_no_room_has_hot_work_and_straw(demo: Shop) -> None:
    rooms = Room.objects.filter(shop=demo)
    assert rooms.count() == 2
    for room in rooms:
        stations = Station.objects.filter(room=room)
        hot, straw = stations.filter(is_spark=True), stations.filter(is_straw=True)
        assert not (hot.exists() and straw.exists())


def test_where_people_stood_on_past_nights_breaks_no_rule(demo: Shop) -> None:
    held = Night.objects.filter(shop=demo, placings__isnull=False).distinct()
    assert held.count() == 10
    for night in held:
        loaded = load(night)
        assert breaches(loaded.problem(), *loaded.placed()) == ()


def test_moving_a_learner_to_a_bench_without_a_lead_would_be_noticed(demo: Shop) -> None:
    learner = Placing.objects.filter(night__shop=demo, role=Placing.Role.LEARNS).first()
    assert learner
    loaded = load(learner.night)
    places, watch = loaded.placed()
    alone = [place for place in places if place.person == str(learner.person_id)]
    found = breaches(loaded.problem(), alone, watch)
    assert "learner_beside_lead" in {breach.rule for breach in found}


def test_every_past_night_with_hot_work_had_its_watch_to_the_end(demo: Shop) -> None:
    sparks = Tally.objects.filter(shop=demo, operation__station__is_spark=True)
    hot = set(sparks.filter(entry__isnull=False).values_list("night", flat=True))
    signed = HotWorkPermit.objects.filter(night__shop=demo).exclude(watch_signed_by="")
    assert hot
    assert hot == set(signed.values_list("night", flat=True))
    for permit in signed:
        assert permit.last_spark_at
        assert permit.watch_ended_at
        watched = permit.watch_ended_at - permit.last_spark_at
        assert watched.total_seconds() >= 60 * permit.watch_minutes


def test_everybody_went_home_from_past_nights(demo: Shop) -> None:
    assert RollLine.objects.filter(night__shop=demo).count() > 300
    assert not RollLine.objects.filter(night__shop=demo, out_at=None).exists()


def test_whoever_came_has_an_answer(demo: Shop) -> None:
    came = set(RollLine.objects.filter(night__shop=demo).values_list("night", "person"))
    answered = set(SignUp.objects.filter(night__shop=demo).values_list("night", "person"))
    assert came <= answered


def test_nobody_has_answered_in_the_time_to_come(demo: Shop) -> None:
    latest = SignUp.objects.filter(night__shop=demo).latest("answered_at").answered_at
    assert latest.astimezone(demo.zone).date() < TODAY


def test_last_winter_is_history_with_minutes_to_learn_from(demo: Shop) -> None:
    winter = Winter.objects.filter(shop=demo).earliest("starts_on")
    tallies = Tally.objects.filter(shop=demo, night__date__lte=winter.ends_on)
    assert tallies.count() > 150
    assert not tallies.filter(person_minutes=None).exists()
    assert not tallies.exclude(entry=None).exists()


@pytest.mark.parametrize("week", [-9, -5, -1])
def test_the_next_opener_was_told_what_to_know(demo: Shop, week: int) -> None:
    nights = Night.objects.filter(shop=demo, hand_over__isnull=False)
    assert nights.filter(date__week_day=4).count() == 8
    assert nights.filter(goal__gt="").count() == 8
