"""The re-sign evening."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from inventory.places.models import Shop
from tests.factories import TODAY, make_bar, make_sign_off, make_station
from tests.workshops.training.conftest import ready
from workshops.people.actions import sign_off
from workshops.people.models import Person
from workshops.stations.models import Level, Station
from workshops.training.resign import Evening, evening_of

PAST = TODAY - timedelta(days=1)


def lapsed(shop: Shop, name: str, at: Station, level: int = Level.ALONE, **fields: Any) -> Person:
    """Somebody whose sign-off ended yesterday."""
    person = ready(shop, name)
    make_sign_off(person, at, level, **({"valid_until": PAST} | fields))
    return person


def lists(evening: Evening) -> dict[str, list[str]]:
    return {each.name: [line.name for line in each.lines] for each in evening.lists}


def test_what_lapsed_or_lapses_within_the_warning_is_due_and_nothing_else(
    shop: Shop, drill: Station, arno: Person
):
    lapsed(shop, "Bo", drill)
    lapsed(shop, "Cy", drill, valid_until=TODAY + timedelta(days=20))
    lapsed(shop, "Di", drill, valid_until=TODAY + timedelta(days=21))
    evening = evening_of(shop, TODAY)
    assert lists(evening) == {"Arno Reed": ["Bo Reed", "Cy Reed"]}
    later = evening_of(shop, TODAY, TODAY + timedelta(days=40))
    assert lists(later) == {"Arno Reed": ["Bo Reed", "Cy Reed", "Di Reed"]}


def test_authorisers_are_signed_first_and_then_sign_for_the_others(
    shop: Shop, drill: Station, arno: Person
):
    lapsed(shop, "Zita", drill, Level.MAY_SIGN)
    for name in ("Bo", "Cy", "Di"):
        lapsed(shop, name, drill)
    found = lists(evening_of(shop, TODAY))
    assert found["Arno Reed"][0] == "Zita Reed"
    assert len(found["Zita Reed"]) == 2


def test_two_lapsed_authorisers_and_no_current_one_wait_for_the_club(shop: Shop, drill: Station):
    for name in ("Yan", "Zita"):
        lapsed(shop, name, drill, Level.MAY_SIGN)
    lapsed(shop, "Bo", drill)
    evening = evening_of(shop, TODAY)
    assert evening.lists == []
    assert {line.no_signer for line in evening.stuck} == {
        "Nobody who may sign others here has a sign-off that counts."
    }


def test_the_only_authoriser_cannot_sign_for_themselves(shop: Shop, drill: Station):
    una = ready(shop, "Una")
    make_sign_off(una, drill, Level.MAY_SIGN, valid_until=TODAY + timedelta(days=5))
    (line,) = evening_of(shop, TODAY).stuck
    assert "nobody signs for themselves" in line.no_signer


def test_whom_the_gate_stops_is_not_on_a_list_and_the_reason_is_said(
    shop: Shop, drill: Station, arno: Person
):
    make_bar(lapsed(shop, "Bo", drill), drill)
    evening = evening_of(shop, TODAY)
    assert (evening.lists, evening.total) == ([], 0)
    assert evening.stuck[0].why_not[0].rule == "barred"


def test_what_has_to_be_signed_before_is_named(shop: Shop, drill: Station, arno: Person):
    watch = make_station(shop, name="Fire watch", level_needed=Level.SHOWN_HOW)
    drill.prerequisites.add(watch)
    make_sign_off(arno, watch, Level.MAY_SIGN)
    bo = lapsed(shop, "Bo", drill)
    assert evening_of(shop, TODAY).stuck[0].why_not[0].rule == "prerequisites"
    make_sign_off(bo, watch, Level.SHOWN_HOW, valid_until=PAST)
    evening = evening_of(shop, TODAY)
    assert {line.station.name: line.first for line in evening.lists[0].lines} == {
        "Drill": "Fire watch", "Fire watch": "",
    }  # fmt: skip


def test_what_was_signed_tonight_is_ticked(shop: Shop, drill: Station, arno: Person):
    bo = lapsed(shop, "Bo", drill)
    lapsed(shop, "Cy", drill)
    sign_off(person=bo, station=drill, level=Level.ALONE, signed_by=arno, on=TODAY,
             evidence="drilled a post", by=None)  # fmt: skip
    evening = evening_of(shop, TODAY)
    assert (evening.done, evening.total, evening.percent) == (1, 2, 50)


def test_what_was_withdrawn_is_not_simply_signed_again(shop: Shop, drill: Station, arno: Person):
    row = make_sign_off(ready(shop, "Bo"), drill)
    row.reviews.create(
        shop=shop, verdict="withdrawn", on=TODAY, reason="guard off", reviewed_by="Carla"
    )
    assert evening_of(shop, TODAY + timedelta(days=1)).total == 0


def test_an_evening_takes_as_many_queries_for_many_people(
    shop: Shop, drill: Station, arno: Person, django_assert_num_queries: Any
):
    for _ in range(2):
        for number in range(5):
            lapsed(shop, f"Guest{number}", drill)
        with django_assert_num_queries(16):
            evening_of(shop, TODAY)
