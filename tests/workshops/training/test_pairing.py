"""Proposals for the timetable."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta

from inventory.places.models import Shop
from tests.factories import TODAY, make_sign_off
from tests.workshops.training.conftest import ready, week
from workshops.nights.models import Night, TrainingDate
from workshops.people.models import Person, Use
from workshops.stations.models import Level, Station
from workshops.training.queries import Timetable, timetable_of

SayYes = Callable[..., None]


def proposed(shop: Shop) -> list[tuple[str, str, int]]:
    """Learner, lead and week of each proposal."""
    return [
        (pair.learner.name, pair.lead_name, (pair.night.date - TODAY).days // 7)
        for pair in timetable_of(shop, TODAY).pairs
    ]


def why_not(found: Timetable) -> list[str]:
    return [each.why_not for each in found.unpaired]


def learner(shop: Shop, drill: Station, name: str) -> Person:
    person = ready(shop, name)
    make_sign_off(person, drill, Level.WITH_A_LEAD)
    return person


def test_the_first_night_on_which_both_come_is_proposed(
    shop: Shop, ada: Person, eli: Person, say_yes: SayYes
):
    say_yes(eli, on=(0, 1, 2))
    say_yes(ada, on=(1, 2))
    assert proposed(shop) == [("Eli R.", "Ada R.", 1)]


def test_learners_are_shared_out_among_the_leads(
    shop: Shop, drill: Station, ada: Person, arno: Person, eli: Person, say_yes: SayYes
):
    flo = learner(shop, drill, "Flo")
    say_yes(ada, arno, eli, flo, on=(0,))
    assert sorted(lead for _, lead, _ in proposed(shop)) == ["Ada R.", "Arno R."]


def test_a_lead_with_learners_enough_gets_the_next_on_another_night(
    shop: Shop, drill: Station, ada: Person, say_yes: SayYes
):
    """Two learners beside one lead, as usual."""
    say_yes(ada, *(learner(shop, drill, name) for name in ("Eve", "Flo", "Gus")), on=(0, 1))
    assert [number for _, _, number in proposed(shop)] == [0, 0, 1]


def test_the_nearest_to_ready_come_first(
    shop: Shop, drill: Station, ada: Person, eli: Person, say_yes: SayYes
):
    drill.learners_per_lead = 1
    drill.save()
    zoe = learner(shop, drill, "Zoe")
    for number in (1, 2):
        day = TODAY - timedelta(weeks=number)
        Use.objects.create(
            shop=shop, person=zoe, station=drill, day=day, minutes=120, with_a_lead=True
        )
    say_yes(ada, eli, zoe, on=(0, 1))
    assert proposed(shop) == [("Zoe R.", "Ada R.", 0), ("Eli R.", "Ada R.", 1)]


def test_who_has_a_date_gets_no_second_one(
    shop: Shop, drill: Station, ada: Person, eli: Person, nights: list[Night], say_yes: SayYes
):
    say_yes(ada, eli)
    TrainingDate.objects.create(night=nights[2], learner=eli, station=drill, lead=ada)
    found = timetable_of(shop, TODAY)
    assert (found.pairs, found.unpaired) == ([], [])
    assert [line.is_kept for line in found.lines] == [None]


def test_a_learner_without_a_night_or_a_lead_is_told_why(
    shop: Shop, ada: Person, eli: Person, say_yes: SayYes
):
    assert why_not(timetable_of(shop, TODAY)) == [
        "Has said yes to no night ahead on which the station is open."
    ]
    say_yes(eli)
    assert why_not(timetable_of(shop, TODAY)) == [
        "No lead with room for a learner comes on a night that they come."
    ]


def test_a_lead_whose_sign_off_ends_before_the_night_is_not_proposed(
    shop: Shop, drill: Station, eli: Person, say_yes: SayYes
):
    una = ready(shop, "Una")
    make_sign_off(una, drill, Level.MAY_LEAD, valid_until=week(0))
    say_yes(una, eli, on=(1,))
    assert proposed(shop) == []
