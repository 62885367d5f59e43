"""Nothing that people do on the list or in the register lets an unsigned person through."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from tests.examples import examples
from tests.factories import TODAY, make_person, make_shop, make_sign_off, make_station, make_waiver
from workshops.people import actions
from workshops.people.gate import Doing, may, register_on
from workshops.people.models import Bar, SignOff
from workshops.people.refusals import PeopleRefused
from workshops.stations.models import Level, Station

MOVES = st.tuples(
    st.sampled_from(["sign", "bar", "lift", "waiver", "edit", "guardian", "walk_in"]),
    st.integers(0, 3),  # who
    st.integers(0, 3),  # with whom
    st.integers(0, 1),  # where
    st.sampled_from(list(Level)),
    st.integers(-400, 3),  # days from today
)


@pytest.mark.usefixtures("clock")
class BreakIn(TestCase):
    """Four people, of whom one may sign at one of two stations, and the last must stay out."""

    def setUp(self):
        self.shop = make_shop()
        self.stations = [
            make_station(self.shop, level_needed=level) for level in (Level.ALONE, Level.SHOWN_HOW)
        ]
        self.people = [make_person(self.shop) for _ in range(4)]
        make_waiver(self.people[3])
        make_sign_off(self.people[0], self.stations[0], Level.MAY_SIGN, valid_until=TODAY)

    @examples(40)
    @given(moves=st.lists(MOVES, max_size=12))
    def test_no_sequence_of_actions_gives_an_unsigned_person_a_yes(self, moves):
        for move in moves:
            self._try(*move)
        for day in (TODAY, TODAY + timedelta(days=200)):
            register = register_on(self.shop, day)
            for person in self.people:
                for station in self.stations:
                    for doing in Doing:
                        if register.answer(person.pk, station.pk, doing).ok:
                            assert self._was_signed(person.pk, station, doing, day)
                            assert may(person, station, day, doing=doing).ok

    def _was_signed(self, person: int, station: Station, doing: Doing, day: date) -> bool:
        """What the rows say, worked out apart from the gate."""
        rows = [
            row
            for row in SignOff.objects.filter(person=person, station=station)
            if row.signed_on <= day
        ]
        last = max(rows, key=lambda row: (row.signed_on, row.pk), default=None)
        least = {Doing.LEADS: 4, Doing.SIGNS: 5, Doing.LEARNS: min(2, station.level_needed)}
        return (
            last is not None
            and last.level >= least.get(doing, station.level_needed)
            and self._was_rightly_signed(last)
            and (last.valid_until is None or last.valid_until >= day)
            and not Bar.objects.filter(
                person=person, station__in=[station], lifted_at=None
            ).exists()
        )

    def _was_rightly_signed(self, row: SignOff) -> bool:
        """Whether its signer was an authoriser then; the first came in from paper."""
        if row.signed_by is None:
            return row.person == self.people[0]
        held = SignOff.objects.filter(
            person=row.signed_by, station=row.station, signed_on__lte=row.signed_on, pk__lt=row.pk
        ).first()
        return held is not None and held.level == Level.MAY_SIGN and row.signed_by != row.person

    def _try(self, verb: str, who: int, other: int, where: int, level: Level, days: int) -> None:
        person, second = self.people[who], self.people[other]
        station, day = self.stations[where], TODAY + timedelta(days=days)
        try:
            if verb == "sign":
                # The last of the four is never signed off by anybody.
                if who != 3:
                    actions.sign_off(
                        person=person, station=station, level=level, signed_by=second,
                        on=day, evidence="seen", by=None,
                    )  # fmt: skip
            elif verb == "bar":
                actions.set_bar(person=person, station=station, reason="x", set_by="C", by=None)
            elif verb == "lift":
                for bar in Bar.objects.filter(person=person):
                    actions.lift_bar(bar=bar, lifted_by="C", by=None)
            elif verb == "waiver":
                actions.sign_waiver(person=person, version="1", on=day, by=None)
            elif verb == "edit":
                actions.edit_person(
                    person=person, fields={"likes": [station], "born_on": day}, by=None
                )
            elif verb == "guardian":
                actions.add_guardian(minor=person, guardian=second, consent_on=day, by=None)
            else:
                actions.walk_in(
                    shop=self.shop, fields={"first_name": "W"}, waiver_version="1", by=None
                )
        except PeopleRefused:
            pass
