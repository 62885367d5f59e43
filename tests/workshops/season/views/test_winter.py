"""Will we make it? The stored outlook, in a picture and in words, and who may ask for it."""

from __future__ import annotations

from datetime import date

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from tests.factories import take_back
from workshops.common.models import Job
from workshops.season import actions
from workshops.season.models import OutlookRun

TODAY = date(2026, 1, 14)


def text(client, url: str) -> str:
    return client.get(url).content.decode()


@pytest.fixture
def run(season) -> OutlookRun:
    season.want(new=400)
    season.make("tag", 3)
    return actions.work_out_outlook(winter=season.winter, today=TODAY, by=None, winters=100)


def test_before_the_first_winter_the_page_says_what_to_do(shop, boss, at) -> None:
    shown = text(boss, at("winter"))
    assert "No winter has begun" in shown
    assert at("begin") in shown


def test_without_a_target_the_page_asks_for_it_first(season, boss, at) -> None:
    shown = text(boss, at("winter"))
    assert "Set the target first" in shown
    assert "No target yet." in shown


def test_with_a_target_the_page_offers_to_work_it_out(season, boss, at) -> None:
    season.want()
    assert "Press “Work it out”" in text(boss, at("winter"))


def test_the_outlook_is_shown_as_a_picture_for_each_width(run, boss, at) -> None:
    shown = text(boss, at("winter"))
    assert 'class="wb-card wb-picture wb-picture--wide"' in shown
    assert 'class="wb-card wb-picture wb-picture--phone"' in shown
    assert shown.count('role="img"') == 2
    assert shown.count("<desc") == 2


def test_the_outlook_is_told_in_words_the_most_important_first(run, boss, at) -> None:
    shown = text(boss, at("winter"))
    assert "<li><b>The target of 405 sets is reached by the last night in" in shown
    assert "3 of 405 sets made" in shown


def test_nights_have_readable_days(run, boss, at) -> None:
    shown = text(boss, at("winter"))
    assert "Wed 14 Jan" in shown
    assert "Wed 21 Jan" in shown
    assert ">2026-01-21<" not in shown


def test_what_the_outlook_counted_on_is_told(run, boss, at) -> None:
    shown = text(boss, at("winter"))
    assert "Counted on" in shown
    assert "That what is missing is ordered now and comes in time:" in shown


def test_what_no_luck_gets_past_is_told_apart(season, boss, at) -> None:
    take_back(season.scene.people["Bo"].sign_offs.get())
    season.want()
    actions.work_out_outlook(winter=season.winter, today=TODAY, by=None, winters=100)
    shown = text(boss, at("winter"))
    assert "Whatever the luck, this stands in the way:" in shown
    assert shown.count("Nobody may do Make Head alone.") >= 1


def test_assumptions_stand_apart_once(run, boss, at) -> None:
    shown = text(boss, at("winter"))
    page = shown[shown.index("In words") :]
    assert page.count("Assumed, not learned") == 1


def test_the_picture_alone_is_an_svg(run, boss, at) -> None:
    answer = boss.get(at("picture"))
    assert answer["Content-Type"] == "image/svg+xml"
    assert answer.content.startswith(b"<svg")


def test_without_an_outlook_there_is_no_picture(season, boss, at) -> None:
    assert boss.get(at("picture")).status_code == 404


def test_working_it_out_is_a_job(season, boss, at, django_capture_on_commit_callbacks) -> None:
    with django_capture_on_commit_callbacks(execute=True):
        answer = boss.post(at("outlook"))
    job = Job.objects.get()
    assert answer["Location"] == f"/teal-point/jobs/{job.pk}/"
    assert job.message.startswith("Set the target first")


def test_without_a_winter_nothing_is_worked_out_and_the_page_leads_on(shop, boss, at) -> None:
    shown = boss.post(at("outlook"), follow=True).content.decode()
    assert "No winter has begun yet. Begin it here" in shown
    assert not Job.objects.exists()


def test_the_page_takes_as_many_queries_for_twice_the_winter(season, run, boss, at) -> None:
    counts = []
    for more in (0, 6):
        for _ in range(more):
            season.make("tag", 1)
        with CaptureQueriesContext(connection) as caught:
            boss.get(at("winter"))
        counts.append(len(caught))
    assert counts[0] == counts[1] <= 8


def test_everybody_of_the_shop_reads_it_and_only_the_coordinator_asks(
    run, volunteer, reader, duty_lead, client_of, at
) -> None:
    for user in (volunteer, reader, duty_lead):
        assert "Work it out" not in text(client_of(user), at("winter"))
        assert client_of(user).post(at("outlook")).status_code == 403


def test_a_stranger_finds_nothing(run, stranger, client_of, at) -> None:
    for name in ("winter", "picture", "target", "ice", "begin"):
        assert client_of(stranger).get(at(name)).status_code == 404
