"""Hours and machines for young people: what the federal rules say, and that here they bind nobody.

They are written for employment. A club adopts them as its own policy or does not; every rule
is off until it does.
"""

from __future__ import annotations

from datetime import date, time, timedelta

import pytest

from inventory.places.models import Shop
from tests.factories import (
    TODAY,
    make_person,
    make_sign_off,
    make_sign_up,
    make_station,
    make_waiver,
)
from tests.workshops.nights.scene import make_scene
from workshops.club.actions import set_rule
from workshops.club.rulebook import RULE
from workshops.nights.loading import load
from workshops.people.gate import may
from workshops.people.models import Person
from workshops.people.young import hours_on, is_in_summer, is_kept_from, machine_words
from workshops.stations.models import Station

Kind = Station.Kind
WINTER_WEDNESDAY, WINTER_SATURDAY = date(2026, 1, 14), date(2026, 1, 17)
SUMMER_WEDNESDAY = date(2026, 7, 15)


def adopt(shop: Shop, key: str) -> None:
    """The club makes the policy its own."""
    set_rule(
        shop=shop, key=key, value=True, decided_by="the board", decided_on=date(2025, 9, 1),
        source="our youth policy", by=None,
    )  # fmt: skip


def aged(shop: Shop, years: int) -> Person:
    """Somebody of that age with a waiver."""
    person = make_person(shop, born_on=TODAY.replace(year=TODAY.year - years))
    make_waiver(person)
    return person


@pytest.mark.parametrize(("day", "minutes"), [
    (WINTER_WEDNESDAY, 180), (date(2026, 1, 16), 180), (WINTER_SATURDAY, 480),
    (SUMMER_WEDNESDAY, 480),
])  # fmt: skip
def test_14_and_15_year_olds_work_3_hours_on_a_school_day_and_8_on_others(day, minutes):
    """29 CFR 570.35(a): 3 hours on a school day, Fridays too, 8 hours on a non-school day."""
    assert hours_on(day, 14).minutes_a_day == hours_on(day, 15).minutes_a_day == minutes


@pytest.mark.parametrize(("day", "hours"), [(WINTER_WEDNESDAY, 18), (SUMMER_WEDNESDAY, 40)])
def test_they_work_18_hours_in_a_school_week_and_40_in_others(day, hours):
    """29 CFR 570.35(a): 18 hours in a school week, 40 in a non-school week."""
    assert hours_on(day, 15).minutes_a_week == hours * 60


@pytest.mark.parametrize(("day", "latest"), [
    (WINTER_WEDNESDAY, 19), (date(2026, 5, 31), 19), (date(2026, 6, 1), 21),
    (date(2026, 9, 7), 21), (date(2026, 9, 8), 19),
])  # fmt: skip
def test_they_work_between_7_and_19_and_to_21_from_june_1_to_labor_day(day, latest):
    """29 CFR 570.35(a): 7 a.m. to 7 p.m., to 9 p.m. from June 1 through Labor Day."""
    assert (hours_on(day, 15).earliest, hours_on(day, 15).latest) == (time(7), time(latest))


@pytest.mark.parametrize("year", range(2024, 2034))
def test_labor_day_is_the_first_monday_of_september(year):
    """5 U.S.C. 6103(a): Labor Day, the first Monday in September (from memory)."""
    last = max(day for day in (date(year, 9, n) for n in range(1, 15)) if is_in_summer(day))
    assert last.weekday() == 0
    assert last.day <= 7


@pytest.mark.django_db
def test_a_14_year_old_on_a_winter_night_stops_at_19_once_the_club_adopts_the_hours(shop, clock):
    """29 CFR 570.35(a): a night of 18:00 to 20:30 in winter passes 19:00."""
    scene, young = make_scene(shop, people=False), aged(shop, 14)
    make_sign_up(scene.night, young)
    assert load(scene.night).bare.person[str(young.pk)].present[0].end == 21 * 60
    adopt(shop, "young_hours")
    assert load(scene.night).bare.person[str(young.pk)].present[0].end == 19 * 60


@pytest.mark.parametrize("kind", [Kind.BEND, Kind.ROLL, Kind.CUT])
def test_bending_rolling_shearing_and_sawing_are_kept_from_those_under_18(kind):
    """29 CFR 570 subpart E, HO 8 (forming, punching, shearing) and HO 14 (saws, shears)."""
    assert is_kept_from(kind, 17)
    assert "HO 8" in machine_words(kind, 17)
    assert not is_kept_from(kind, 18)


@pytest.mark.parametrize("kind", [Kind.DRILL, Kind.GRIND])
def test_drill_presses_and_grinders_are_not_in_that_order(kind):
    """29 CFR 570.59 (HO 8) names forming machines; drill presses and grinders are no such."""
    # from memory: the section numbers and the machines the order leaves out
    assert not is_kept_from(kind, 16)
    assert is_kept_from(kind, 15)


@pytest.mark.parametrize("age", [16, 17])
def test_hours_end_at_16_and_machines_at_18(age):
    """29 CFR 570.2: no federal limit of hours at 16 and 17; the hazardous orders still apply."""
    assert hours_on(WINTER_WEDNESDAY, age) is None
    assert is_kept_from(Kind.BEND, age)


@pytest.mark.parametrize("kind", [kind for kind in Kind if kind not in (
    Kind.FILL, Kind.TAG, Kind.RUNNER, Kind.GREETER, Kind.KITCHEN,
)])  # fmt: skip
def test_under_16_only_hand_work_is_left(kind):
    """29 CFR 570.33, and the guide to young workers: no manufacturing, no power-driven tools."""
    assert is_kept_from(kind, 14)
    assert is_kept_from(kind, 15)


@pytest.mark.django_db
@pytest.mark.parametrize("key", ["young_hours", "young_machines"])
def test_each_is_off_until_adopted_and_never_said_to_bind_volunteers(shop, key):
    """29 CFR 570 binds employment; a club that follows it does so by its own policy."""
    assert RULE[key].usual is False
    assert "not volunteers" in RULE[key].why
    assert "adopt" in RULE[key].why
    bend = make_station(shop, kind=Kind.BEND, level_needed=None)
    assert may(aged(shop, 15), bend, TODAY).ok


@pytest.mark.django_db
def test_once_adopted_the_gate_names_the_clubs_policy_and_keeps_the_age_private(shop):
    """29 CFR 570 subpart E, as a club's own policy."""
    adopt(shop, "young_machines")
    bend = make_station(shop, kind=Kind.BEND)
    young, grown = aged(shop, 17), aged(shop, 18)
    reason = may(young, bend, TODAY).stopped_by("young_machines")
    assert reason.text.startswith("By the club's policy")
    assert "17" not in reason.in_public().text
    assert may(grown, bend, TODAY).ok


@pytest.mark.django_db
def test_a_week_that_is_full_leaves_no_hours(shop, clock):
    """29 CFR 570.35(a): 18 hours in a school week."""
    scene, young = make_scene(shop, people=False), aged(shop, 15)
    make_sign_up(scene.night, young)
    adopt(shop, "young_hours")
    monday = make_night_before(scene, young, hours=18)
    assert monday < TODAY
    assert load(scene.night).bare.person[str(young.pk)].present == ()


def make_night_before(scene, young, *, hours):
    """A stay of so many hours on the Monday before; gives the day."""
    day = TODAY - timedelta(days=TODAY.weekday())
    night = type(scene.night).objects.create(
        shop=scene.shop, date=day, doors=time(1), stop=time(20), lock_up=time(21)
    )
    at = scene.at("00:00") - timedelta(days=(TODAY - day).days)
    night.roll.create(person=young, in_at=at, out_at=at + timedelta(hours=hours))
    return day


@pytest.mark.django_db
def test_a_sign_off_for_arc_welding_opens_no_spot_welder(shop):
    """29 CFR 1910.255(a)(3): operators of resistance welders are instructed, judged competent."""
    arc, spot = (
        make_station(shop, kind=kind, level_needed=3) for kind in (Kind.WELD, Kind.SPOT_WELD)
    )
    welder = aged(shop, 40)
    make_sign_off(welder, arc)
    assert may(welder, arc, TODAY).ok
    assert [reason.rule for reason in may(welder, spot, TODAY).reasons] == ["sign_off"]
    make_sign_off(welder, spot)
    assert may(welder, spot, TODAY).ok
