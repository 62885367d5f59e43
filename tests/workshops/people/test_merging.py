"""Two entries of one person made one: nothing lost, nothing edited, the gate no laxer."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
from django.db import transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from inventory.places.models import Shop
from tests.conftest import NOW
from tests.factories import (
    TODAY,
    make_bar,
    make_minor,
    make_night,
    make_person,
    make_sign_off,
    make_station,
    take_back,
)
from workshops.access.models import User
from workshops.nights.models import Placing, RollLine, SignUp
from workshops.people.actions import edit_person, record_uses, set_lifetime
from workshops.people.alike import perhaps_the_same
from workshops.people.gate import Doing, may, register_on
from workshops.people.merging import merge, preview_merge
from workshops.people.models import Bar, Person, Review, SignOff, Use, Waiver
from workshops.people.moving import HOW, relations
from workshops.people.refusals import MergeRefused, PeopleRefused
from workshops.people.uses import Used
from workshops.stations.models import Level, Station

pytestmark = pytest.mark.usefixtures("clock")


@pytest.fixture
def weld(shop: Shop) -> Station:
    return make_station(shop, name="Weld", level_needed=Level.ALONE)


@pytest.fixture
def pair(shop: Shop) -> tuple[Person, Person]:
    return tuple(make_person(shop, first_name="Ada", last_name="Marsh") for _ in range(2))


def join(kept: Person, gone: Person) -> Person:
    merge(kept=kept, gone=gone, by=None)
    return Person.objects.get(pk=kept.pk)


def test_merging_knows_every_relation_to_a_person(db: None):
    assert {name for name, _ in relations()} == set(HOW)


def test_sign_offs_are_copied_and_the_old_line_stays(pair, weld):
    kept, gone = pair
    old = make_sign_off(gone, weld)
    join(kept, gone)
    copy = SignOff.objects.get(person=kept)
    old.refresh_from_db()
    assert (old.person, copy.level, copy.signed_on) == (gone, old.level, old.signed_on)
    assert f"signed for Ada Marsh, no. {gone.pk}" in copy.evidence


def test_a_withdrawn_sign_off_stays_withdrawn(pair, weld, shop):
    kept, gone = pair
    make_sign_off(gone, weld, signed_on=date(2025, 10, 1))
    row = make_sign_off(gone, weld)
    Review.objects.create(shop=shop, sign_off=row, verdict="withdrawn", on=TODAY, reason="r",
                          reviewed_by="Berta")  # fmt: skip
    join(kept, gone)
    assert may(kept, weld, TODAY).stopped_by("sign_off")


def test_what_was_a_mistake_is_not_copied(pair, weld):
    kept, gone = pair
    take_back(make_sign_off(gone, weld))
    join(kept, gone)
    assert not SignOff.objects.filter(person=kept).exists()


@pytest.mark.parametrize("whose", [0, 1])
def test_a_bar_of_either_bars_the_one(pair, weld, whose):
    make_sign_off(pair[0], weld)
    make_bar(pair[whose], weld)
    assert may(join(*pair), weld, TODAY).stopped_by("barred")


def test_hours_of_the_other_wake_no_lapsed_sign_off(pair, weld, shop):
    kept, gone = pair
    set_lifetime(station=weld, unused_months=2, decided_by="Board", decided_on=date(2025, 9, 1),
                 source="a meeting", by=None)  # fmt: skip
    make_sign_off(kept, weld, signed_on=date(2025, 10, 1))
    used = Used(gone.pk, weld.pk, 60, with_a_lead=True)
    record_uses(shop=shop, day=TODAY - timedelta(days=3), uses=[used])
    join(kept, gone)
    assert may(kept, weld, TODAY).stopped_by("sign_off")


def test_the_other_entry_leaves_the_list_and_says_whose_it_is(pair, coordinator):
    join(*pair)
    gone = Person.objects.get(pk=pair[1].pk)
    assert (gone.is_active, gone.merged_into) == (False, pair[0])
    with pytest.raises(PeopleRefused, match="was joined"):
        edit_person(person=gone, fields={"is_active": True}, by=coordinator)


def test_minutes_of_one_day_are_added(pair, weld, shop):
    uses = [Used(person.pk, weld.pk, 30) for person in pair]
    record_uses(shop=shop, day=TODAY, uses=uses)
    join(*pair)
    assert list(Use.objects.values_list("person", "minutes")) == [(pair[0].pk, 60)]


def test_the_later_answer_counts_and_guests_stay(pair, shop):
    night = make_night(shop, date=TODAY)
    for person, answer, guests in zip(pair, ("yes", "no"), (2, 0), strict=True):
        at = NOW - timedelta(hours=guests)
        SignUp.objects.create(
            night=night, person=person, answer=answer, guests=guests, answered_at=at
        )
    join(*pair)
    row = SignUp.objects.get()
    assert (row.person, row.answer, row.guests) == (pair[0], "no", 2)


def test_waivers_and_stays_move(pair, shop):
    kept, gone = pair
    night = make_night(shop, date=date(2026, 1, 7))
    at = Person.objects.get(pk=kept.pk).changed_at - timedelta(days=7)
    RollLine.objects.create(night=night, person=gone, in_at=at, out_at=at)
    Waiver.objects.create(
        shop=shop, person=gone, version="2025", signed_on=TODAY, valid_until=TODAY
    )
    join(kept, gone)
    assert (Waiver.objects.get().person, RollLine.objects.get().person) == (kept, kept)


def two_placings(pair: Any, shop: Shop, day: date) -> None:
    night = make_night(shop, date=day)
    block = night.blocks.create(index=9, starts="18:00", ends="19:00")
    station = make_station(shop)
    for person in pair:
        Placing.objects.create(night=night, block=block, person=person, station=station)


def test_two_places_at_one_time_of_a_night_to_come_are_refused(pair, shop):
    two_placings(pair, shop, TODAY)
    with pytest.raises(MergeRefused, match="take one of them out of that night first"):
        join(*pair)


def test_two_places_at_one_time_long_ago_stay_as_they_were(pair, shop):
    two_placings(pair, shop, date(2026, 1, 7))
    join(*pair)
    assert {row.person_id for row in Placing.objects.all()} == {row.pk for row in pair}


def test_who_signed_the_other_off_is_not_the_same_person(pair, weld):
    make_sign_off(pair[1], weld, signed_by=pair[0])
    with pytest.raises(MergeRefused, match="nobody signs for themselves"):
        join(*pair)


def test_two_dates_of_birth_are_two_people(shop):
    pair = [make_person(shop, born_on=date(year, 1, 1)) for year in (1960, 1990)]
    with pytest.raises(MergeRefused, match="dates of birth differ"):
        join(*pair)


def test_a_guardian_is_not_the_ward(shop):
    guardian = make_person(shop)
    with pytest.raises(MergeRefused, match="guardian of the other"):
        join(guardian, make_minor(shop, guardian))


def test_nobody_joins_their_own_entry(pair, coordinator):
    Person.objects.filter(pk=pair[0].pk).update(user=coordinator)
    with pytest.raises(MergeRefused, match="ask somebody else"):
        merge(kept=pair[0], gone=pair[1], by=coordinator)


def test_the_account_moves(pair, volunteer: User):
    Person.objects.filter(pk=pair[1].pk).update(user=volunteer)
    assert join(*pair).user == volunteer


def test_a_look_at_it_writes_nothing(pair, weld, coordinator):
    make_sign_off(pair[1], weld)
    assert preview_merge(*pair, by=coordinator).sign_offs == 1
    assert Person.objects.filter(merged_into=None).count() == 2
    assert SignOff.objects.count() == 1


def test_people_of_another_shop_are_not_joined(pair, other_shop):
    with pytest.raises(MergeRefused):
        join(pair[0], make_person(other_shop))


def test_a_family_is_asked_about_and_two_birthdays_are_not(shop):
    fields = {"last_name": "Reed", "email": "reeds@example.org"}
    for name, year in (("Ann", 1980), ("Ann", 2011), ("Bo", None)):
        born = date(year, 1, 1) if year else None
        make_person(shop, first_name=name, born_on=born, **fields)
    pairs = perhaps_the_same(shop)
    assert [pair.why for pair in pairs] == [("the same e-mail",)] * 2


# ---- the gate ------------------------------------------------------------------------

ENTRY = st.fixed_dictionaries({
    "signed": st.lists(
        st.tuples(
            st.integers(0, 2), st.sampled_from(Level.values), st.integers(0, 400),
            st.integers(0, 400), st.sampled_from(["", "withdrawn", "mistake"]),
        ), max_size=4,
    ),
    "bars": st.lists(st.tuples(st.integers(-1, 2), st.booleans()), max_size=2),
    "used": st.lists(st.tuples(st.integers(0, 2), st.integers(0, 300)), max_size=2),
    "limits": st.tuples(st.booleans(), st.booleans()),
    "has_waiver": st.booleans(), "is_of_age": st.booleans(),
    "born": st.sampled_from([None, None, 2010]),
})  # fmt: skip


def make_entry(shop: Shop, stations: list[Station], drawn: dict[str, Any]) -> Person:
    """A person with the register that was drawn."""
    born = date(drawn["born"], 5, 1) if drawn["born"] else None
    dust, heavy = drawn["limits"]
    person = make_person(shop, is_adult_declared=drawn["is_of_age"], born_on=born, no_dust=dust,
                         no_heavy=heavy)  # fmt: skip
    for at, level, ago, lasts, verdict in drawn["signed"]:
        day = TODAY - timedelta(days=ago)
        row = make_sign_off(person, stations[at], level, signed_on=day,
                            valid_until=day + timedelta(days=lasts))  # fmt: skip
        if verdict:
            Review.objects.create(shop=shop, sign_off=row, verdict=verdict, on=TODAY, reason="r",
                                  reviewed_by="Berta")  # fmt: skip
    for at, beside in drawn["bars"]:
        station = stations[at] if at >= 0 else None
        Bar.objects.create(shop=shop, person=person, station=station, reason="r", set_by="Dov",
                           only_with_a_lead=beside and station is not None)  # fmt: skip
    for at, ago in drawn["used"]:
        Use.objects.get_or_create(shop=shop, person=person, station=stations[at],
                                  day=TODAY - timedelta(days=ago))  # fmt: skip
    if drawn["has_waiver"]:
        Waiver.objects.create(shop=shop, person=person, version="1", signed_on=TODAY,
                              valid_until=TODAY)  # fmt: skip
    return person


def laxer(one: Any, other: Any, now: Any) -> bool:
    """Whether the one person may what neither could, but for papers that each had a part of."""
    if not now.ok or one.ok or other.ok:
        return False
    # Every reason against the one was met by the other; a station's basis may be met by both.
    parts = [{reason.rule for reason in answer.reasons} for answer in (one, other)]
    return bool((parts[0] & parts[1]) - {"prerequisites"}) or bool(
        (parts[0] | parts[1]) & {"barred", "with_a_lead", "personal_limits"}
    )


@given(drawn=st.tuples(ENTRY, ENTRY))
@settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_the_one_may_do_nothing_that_neither_could(shop: Shop, drawn: Any):
    with transaction.atomic():
        stations = [make_station(shop, level_needed=level, is_dusty=level == 3, is_heavy=level == 2)
                    for level in (1, 2, 3)]  # fmt: skip
        stations[2].prerequisites.add(stations[0])
        set_lifetime(station=stations[2], unused_months=2, decided_by="Board",
                     decided_on=date(2025, 1, 1), source="a meeting", by=None)  # fmt: skip
        one, other = (make_entry(shop, stations, each) for each in drawn)
        before = register_on(shop, TODAY)
        join(one, other)
        after = register_on(shop, TODAY)
        for station in stations:
            for doing in Doing:
                was = [before.answer(row.pk, station.pk, doing) for row in (one, other)]
                assert not laxer(*was, after.answer(one.pk, station.pk, doing))
                assert not after.answer(other.pk, station.pk, doing).ok
        transaction.set_rollback(True)
