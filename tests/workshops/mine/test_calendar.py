"""The calendar feed, read by a parser that is not the one that wrote it."""

from __future__ import annotations

from datetime import date, datetime, time
from zoneinfo import ZoneInfo

import pytest
import vobject
from django.test import Client

from tests.factories import make_night, make_sign_up
from workshops.mine import actions
from workshops.mine.calendar import written
from workshops.nights.actions import cancel_night, sign_up
from workshops.nights.actions.calendar import Bringing

pytestmark = pytest.mark.django_db

CHICAGO = ZoneInfo("America/Chicago")


def parsed(scene, person):
    """The feed as an independent reader takes it, refusing what breaks the standard."""
    read = vobject.readOne(written(actions.feed_of(person=person), scene.at("18:00")).decode())
    read.validate(raiseException=True)
    return read


def event_of(scene, person):
    return parsed(scene, person).vevent


def test_a_night_said_yes_to_stands_at_its_hour_in_the_shops_zone(scene, dee) -> None:
    event = event_of(scene, dee)
    assert event.dtstart.value == datetime(2026, 1, 14, 18, 0, tzinfo=CHICAGO)
    assert event.dtend.value == datetime(2026, 1, 14, 21, 0, tzinfo=CHICAGO)
    assert event.dtstart.params["X-VOBJ-ORIGINAL-TZID"] == ["America/Chicago"]
    assert (event.status.value, event.summary.value) == ("CONFIRMED", "Steel and straw")


def test_the_zone_is_defined_so_that_summer_and_winter_are_told_apart(scene, dee) -> None:
    for day in (date(2026, 3, 7), date(2026, 3, 8), date(2026, 6, 10), date(2026, 11, 1)):
        make_sign_up(make_night(scene.shop, date=day), dee)
    read = parsed(scene, dee)
    zone = read.vtimezone.tzinfo
    for event in read.vevent_list:
        there = event.dtstart.value.replace(tzinfo=None)
        assert zone.utcoffset(there) == there.replace(tzinfo=CHICAGO).utcoffset()


def test_the_clocks_change_at_two_as_the_standard_writes_it(scene, dee) -> None:
    make_sign_up(make_night(scene.shop, date=date(2026, 3, 10)), dee)
    text = written(actions.feed_of(person=dee), scene.at("18:00")).decode()
    change = text[text.index("BEGIN:DAYLIGHT") : text.index("END:DAYLIGHT")].split("\r\n")
    assert "DTSTART:20260308T020000" in change
    assert ("TZOFFSETFROM:-0600" in change, "TZOFFSETTO:-0500" in change) == (True, True)


def test_each_change_has_a_higher_number_and_the_same_name(scene, dee) -> None:
    seen = [event_of(scene, dee)]
    for minute, answer in enumerate(("maybe", "yes"), 1):
        sign_up(night=scene.night, person=dee, answer=answer, at=scene.at(f"18:0{minute}"))
        seen.append(event_of(scene, dee))
    cancel_night(night=scene.night, reason="snow", at=scene.at("18:05"))
    scene.night.refresh_from_db()
    seen.append(event_of(scene, dee))
    numbers = [int(event.sequence.value) for event in seen]
    assert numbers == sorted(set(numbers))
    assert len({event.uid.value for event in seen}) == 1
    stamps = [event.last_modified.value for event in seen]
    assert stamps == sorted(stamps)
    assert stamps[-1] == scene.at("18:05")


def test_a_cancelled_night_says_so_and_why(scene, dee) -> None:
    cancel_night(night=scene.night, reason="snow", at=scene.at("16:00"))
    event = event_of(scene, dee)
    assert event.status.value == "CANCELLED"
    assert "Cancelled: snow." in event.description.value


def test_no_line_is_longer_than_the_standard_has_it_and_lines_end_as_it_says(scene, dee) -> None:
    scene.night.goal = "Sixty heads; and, ä" * 5
    scene.night.save()
    text = written(actions.feed_of(person=dee), scene.at("18:00"))
    assert all(len(line) <= 75 for line in text.split(b"\r\n"))
    assert b"\n" not in text.replace(b"\r\n", b"")
    assert scene.night.goal in event_of(scene, dee).description.value


def test_times_of_ones_own_and_guests_stand_there_and_nobody_else(scene, dee) -> None:
    sign_up(
        night=scene.night, person=dee, answer="yes", at=scene.at("17:00"), arrives=time(19),
        leaves=time(20), bringing=Bringing(2, "Cousins", "private words"),
    )  # fmt: skip
    text = written(actions.feed_of(person=dee), scene.at("18:00")).decode()
    event = vobject.readOne(text).vevent
    assert (event.dtstart.value.hour, event.dtend.value.hour) == (19, 20)
    assert not [name for name in ("Ada", "Reed", "Bo", "private words") if name in text]


def test_a_no_is_left_out_unless_all_nights_are_wished(scene, dee) -> None:
    sign_up(night=scene.night, person=dee, answer="no", at=scene.at("17:00"))
    make_night(scene.shop, date=date(2026, 1, 21))
    assert not hasattr(parsed(scene, dee), "vevent")
    actions.show_all_nights(person=dee, has_all_nights=True)
    events = parsed(scene, dee).vevent_list
    assert [event.status.value for event in events] == ["TENTATIVE", "TENTATIVE"]
    assert [event.transp.value for event in events] == ["TRANSPARENT", "TRANSPARENT"]


def test_nights_of_another_shop_are_in_nobodys_calendar(scene, dee, other_shop) -> None:
    make_night(other_shop, date=date(2026, 1, 15))
    actions.show_all_nights(person=dee, has_all_nights=True)
    assert len(parsed(scene, dee).vevent_list) == 1


def test_whoever_has_the_address_reads_it_and_a_renewed_one_finds_nothing(scene, dee) -> None:
    feed = actions.feed_of(person=dee)
    address = f"/calendar/{feed.secret}.ics"
    answer = Client().get(address)
    assert answer["Content-Type"] == "text/calendar; charset=utf-8"
    assert answer.content.startswith(b"BEGIN:VCALENDAR\r\n")
    renewed = actions.renew_feed(person=dee)
    assert Client().get(address).status_code == 404
    assert Client().get(f"/calendar/{renewed.secret}.ics").status_code == 200


def test_whoever_left_the_list_has_no_calendar(scene, dee) -> None:
    feed = actions.feed_of(person=dee)
    dee.is_active = False
    dee.save()
    assert Client().get(f"/calendar/{feed.secret}.ics").status_code == 404


def test_a_calendar_of_many_nights_takes_two_queries(scene, dee, django_assert_num_queries) -> None:
    for day in range(1, 29):
        make_sign_up(make_night(scene.shop, date=date(2026, 2, day)), dee)
    feed = actions.feed_of(person=dee)
    with django_assert_num_queries(2):
        assert written(feed, scene.at("18:00")).count(b"BEGIN:VEVENT") == 29
