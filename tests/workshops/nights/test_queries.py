"""Reads of a night: right, in order, and in a fixed number of queries."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from tests.factories import make_night
from workshops.nights import actions, queries
from workshops.nights.models import Night, Placing


def count(scene, name: str, **counted):
    return actions.tally(
        night=scene.night, operation=scene.operations[name], at=scene.at("19:00"), by=None,
        **counted,
    )  # fmt: skip


def test_nights_come_with_who_means_to_come_and_who_came(scene) -> None:
    scene.night.sign_ups.filter(person=scene.people["Dee"]).update(answer="maybe")
    for clock in ("18:00", "19:00"):
        actions.sign_in(night=scene.night, person=scene.people["Ada"], at=scene.at(clock))
    [night] = queries.nights_of(scene.shop)
    assert (night.coming, night.came) == (4, 1)


def test_no_night_is_none(shop) -> None:
    assert queries.night_on(shop, date(2026, 1, 14)) is None


def test_the_next_night_is_tonights_until_it_is_closed(scene) -> None:
    later = make_night(scene.shop, date=scene.night.date + timedelta(days=7))
    assert queries.next_night(scene.shop, scene.at("23:30")) == scene.night
    Night.objects.filter(pk=scene.night.pk).update(status=Night.Status.CLOSED)
    assert queries.next_night(scene.shop, scene.at("23:30")) == later


def test_the_last_hand_over_is_of_the_latest_night_before(scene) -> None:
    for days in (7, 14):
        night = make_night(scene.shop, date=scene.night.date - timedelta(days=days))
        actions.close_night(
            night=night, words=f"{days} ago", written_by="Dov", at=scene.at("21:00")
        )
    found = queries.last_hand_over(scene.night)
    assert found is not None
    assert found.hand_over.words == "7 ago"


def test_without_a_plan_nothing_is_expected() -> None:
    assert queries.expected_of(None) == []
    assert queries.expected_sets(None) == 0


def test_what_a_plan_expects_is_told_by_operation(scene, material) -> None:
    run = actions.plan_night(night=scene.night, by=None, seconds=1.0)
    found = {row.operation: row for row in queries.expected_of(run)}
    assert found["Make Post"].station == "Drill"
    assert found["Make Post"].rounded >= 1
    assert queries.expected_sets(run) == int(
        run.result["output"]["sets"][f"set-{scene.stock.complete.pk}"] + 1e-6
    )


@pytest.mark.parametrize(("minutes", "spark"), [(60, "20:00"), (30, "20:30")])
def test_the_last_spark_is_lock_up_less_the_watch(scene, minutes, spark) -> None:
    assert queries.last_spark_of(scene.night, minutes) == spark


def test_counts_that_were_taken_back_do_not_stand(scene) -> None:
    row = count(scene, "drill", good=3)
    count(scene, "drill", good=2, scrap=1)
    actions.undo_tally(tally=row, at=scene.at("19:05"), by=None)
    sums = {row.operation.slug: row for row in queries.counts_of(scene.night)}
    assert (sums["drill"].good, sums["drill"].scrap) == (2, 1)
    assert not sums["weld"].is_any
    assert [row.good for row in queries.tallies_of(scene.night)] == [2]


def test_stations_of_tonights_plan_are_counted_first(scene) -> None:
    Placing.objects.create(
        night=scene.night, block=scene.blocks[0], person=scene.people["Dee"], station=scene.tag
    )
    count(scene, "roll", good=1)
    groups = queries.counts_by_station(scene.night)
    told = [(group.station.name, group.is_open) for group in groups]
    assert told == [("Roll", True), ("Tag", True), ("Drill", False), ("Weld", False)]


def test_each_form_that_counts_gets_a_key_of_its_own(scene) -> None:
    row = queries.counts_of(scene.night)[0]
    assert row.key != row.key


def test_counting_pages_take_three_queries(scene, django_assert_num_queries) -> None:
    with django_assert_num_queries(3):
        for group in queries.counts_by_station(scene.night):
            assert group.station.name
