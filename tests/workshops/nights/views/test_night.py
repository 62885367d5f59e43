"""Who stands where? The board, its breaches, and what each role sees of it."""

from __future__ import annotations

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from tests.factories import make_bar, make_night, make_person, make_sign_up
from workshops.common.models import Job
from workshops.nights import actions
from workshops.nights.models import Night, PlacingRun

MOST_QUERIES = 19  # with session, sign-in and membership


def text(client, url: str) -> str:
    return client.get(url).content.decode()


def put(scene, name: str, station: str, block: int = 0) -> None:
    actions.place(
        night=scene.night, block=scene.blocks[block], person=scene.people[name],
        station=getattr(scene, station),
    )  # fmt: skip


@pytest.fixture
def planned(scene, material):
    actions.plan_night(night=scene.night, by=None, seconds=1.0)
    return scene


def test_before_a_plan_the_page_says_what_to_press(scene, lead, page) -> None:
    shown = text(lead, page("night"))
    assert "Nobody is placed yet" in shown
    assert "last spark 20:00" in shown
    assert "5 people expected" in shown


def test_with_nobody_coming_the_page_asks_who_comes(scene, lead, page) -> None:
    scene.night.sign_ups.all().delete()
    assert "Nobody has said yet that they come" in text(lead, page("night"))


def test_a_plan_shows_who_stands_where_and_what_is_made(planned, lead, page) -> None:
    shown = text(lead, page("night"))
    assert "No rule of the club stops this plan." in shown
    assert "Ada R." in shown
    assert "Make Post" in shown


def test_every_breach_is_shown_at_once(scene, lead, page) -> None:
    put(scene, "Ada", "drill")
    put(scene, "Bo", "weld")
    make_bar(scene.people["Ada"], scene.drill, reason="left the guard off")
    shown = text(lead, page("night"))
    assert "2 things to mend before this plan is used" in shown
    assert "left the guard off" in shown
    assert "Nobody keeps the fire watch in Forge" in shown


def test_a_volunteer_sees_places_but_no_reasons_about_people(scene, guest, page) -> None:
    put(scene, "Ada", "drill")
    make_bar(scene.people["Ada"], scene.drill, reason="left the guard off")
    shown = text(guest, page("night"))
    assert "Ada R." in shown
    assert "1 thing to mend" in shown
    assert "left the guard off" not in shown


def test_a_volunteer_gets_no_link_that_leads_nowhere(planned, guest, page) -> None:
    shown = text(guest, page("night"))
    assert "Ada R." in shown
    for part in ("/move/", "/roll/", "/tally/", "/coming/", "/cancel/", "/plan/"):
        assert part not in shown


def test_with_nobody_coming_a_volunteer_is_not_led_to_a_page_of_others(scene, guest, page) -> None:
    scene.night.sign_ups.all().delete()
    shown = guest.get(page("night")).content.decode()
    assert "Nobody has said yet that they come." in shown
    assert page("coming") not in shown


def test_the_page_takes_as_many_queries_for_twice_the_people(planned, lead, page) -> None:
    counts = []
    for more in (0, 10):
        for number in range(more):
            planned.join(f"Guest{number}", (planned.drill, 3))
            put(planned, f"Guest{number}", "tag", 2) if number < 1 else None
        with CaptureQueriesContext(connection) as caught:
            lead.get(page("night"))
        counts.append(len(caught))
    assert counts[0] == counts[1] <= MOST_QUERIES


def test_place_everybody_is_a_job_and_leads_to_its_page(
    scene, lead, page, django_capture_on_commit_callbacks
) -> None:
    with django_capture_on_commit_callbacks(execute=True):
        answer = lead.post(page("plan"))
    job = Job.objects.get()
    assert answer["Location"] == f"/{scene.shop.slug}/jobs/{job.pk}/"
    assert PlacingRun.objects.get().made_by.username == "dov"


def test_planning_anew_forgets_the_plan_that_stands(scene, lead, page) -> None:
    lead.post(page("plan"), {"anew": "yes"})
    assert Job.objects.get().arguments["keeping"] is False


def test_a_refused_plan_shows_the_rules_sentence(
    scene, lead, page, django_capture_on_commit_callbacks
) -> None:
    put(scene, "Ada", "drill")
    make_bar(scene.people["Ada"], scene.drill, reason="left the guard off")
    with django_capture_on_commit_callbacks(execute=True):
        answer = lead.post(page("plan"))
    shown = lead.get(answer["Location"]).content.decode()
    assert "is barred from Drill: left the guard off." in shown
    assert "fixed there by hand" in shown


def test_a_cancelled_night_shows_why_and_offers_nothing(scene, boss, page) -> None:
    boss.post(page("cancel"), {"reason": "snow"})
    shown = text(boss, page("night"))
    assert "This night is cancelled: snow" in shown
    assert "Place everybody" not in shown


def test_cancelling_without_a_reason_is_refused(scene, boss, page) -> None:
    shown = boss.post(page("cancel"), {"reason": " "}, follow=True).content.decode()
    assert "Say why the night is cancelled" in shown
    assert Night.objects.get().status == "planned"


def test_the_duty_lead_does_not_cancel(scene, lead, page) -> None:
    assert lead.post(page("cancel"), {"reason": "snow"}).status_code == 403
    assert "Cancel this night" not in text(lead, page("night"))


def test_a_night_that_is_over_shows_its_hand_over_and_no_breaches(scene, lead, page) -> None:
    put(scene, "Dee", "roll")
    actions.close_night(
        night=scene.night, words="Two heads on hold.", written_by="Dov", at=scene.at("21:00")
    )
    shown = text(lead, page("night"))
    assert "Hand-over by Dov: Two heads on hold." in shown
    assert "to mend before" not in shown


def test_a_day_without_a_night_is_not_found(scene, lead) -> None:
    assert lead.get("/teal-point/nights/2026-01-15/").status_code == 404
    assert lead.get("/teal-point/nights/2026-02-30/").status_code == 404


def test_another_shops_night_shows_nothing_here(scene, other_shop, stranger, client_of) -> None:
    there = make_night(other_shop)
    make_sign_up(there, make_person(other_shop, first_name="Olaf", last_name="Nord"))
    shown = text(client_of(stranger), "/mallow-creek/nights/2026-01-14/")
    assert "Olaf N." in shown
    assert "Ada R." not in shown


def test_a_stranger_meets_nothing(scene, stranger, client_of, page) -> None:
    assert client_of(stranger).get(page("night")).status_code == 404
    assert client_of(stranger).post(page("plan")).status_code == 404
    assert not PlacingRun.objects.exists()


@pytest.mark.parametrize("name", ["night", "roll", "permit"])
def test_every_page_of_a_night_leads_to_the_others(scene, lead, page, name: str) -> None:
    strip = text(lead, page(name)).split('aria-label="Pages of this night"')[1].split("</nav>")[0]
    assert strip.count('aria-current="page"') == 1
    for other in ("night", "roll", "permit"):
        assert f'href="{page(other)}"' in strip
