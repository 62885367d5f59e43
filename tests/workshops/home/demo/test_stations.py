"""The stations and the words of their cards."""

from __future__ import annotations

from inventory.places.models import Shop
from workshops.stations.models import Operation, Station, Tool


def test_every_flag_of_a_station_is_used_somewhere(demo: Shop) -> None:
    stations = Station.objects.filter(shop=demo)
    for flag in ("is_spark", "is_hooded", "is_straw", "is_dusty", "is_heavy", "can_sit",
                 "needs_buddy"):  # fmt: skip
        assert stations.filter(**{flag: True}).exists(), flag


def test_welding_builds_on_the_fire_watch(demo: Shop) -> None:
    weld = Station.objects.get(shop=demo, slug="weld")
    assert [needed.slug for needed in weld.prerequisites.all()] == ["fire-watch"]
    assert weld.is_hooded
    assert weld.age_min == 18


def test_every_station_says_what_to_wear_and_what_to_mind(demo: Shop) -> None:
    stations = Station.objects.filter(shop=demo)
    assert stations
    for station in stations:
        assert station.wear, station
        assert all(caution["text"] and caution["source"] for caution in station.cautions)
        assert station.cautions, station


def test_gloves_are_off_at_the_drill(demo: Shop) -> None:
    assert "gloves" in Station.objects.get(shop=demo, slug="drill").never_wear


def test_one_tool_is_out_of_service_and_says_why(demo: Shop) -> None:
    broken = Tool.objects.filter(shop=demo, out_of_service__gt=0).get()
    assert broken.name == "Drill press"
    assert "chuck" in broken.fault


def test_every_card_has_steps_with_reasons_and_a_first_piece(demo: Shop) -> None:
    operations = Operation.objects.filter(shop=demo)
    assert operations.count() == 23
    for operation in operations:
        assert 3 <= len(operation.steps) <= 7, operation
        assert all(step["key_point"] and step["reason"] for step in operation.steps)
        assert operation.first_piece
        assert operation.sheet


def test_people_are_wanted_where_nothing_is_made(demo: Shop) -> None:
    wanted = Station.objects.filter(shop=demo, heads_wanted__gt=0)
    assert {station.slug for station in wanted} == {"runner", "greeter", "kitchen"}
