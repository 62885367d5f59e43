"""One incident and the list: injuries for leads alone, words added, a lead seen by a press."""

from __future__ import annotations

from datetime import date
from uuid import uuid4

import pytest

from tests.factories import make_sign_off
from workshops.access.permissions import Permission
from workshops.club.actions import set_rule
from workshops.people.models import Bar
from workshops.stations.models import Level
from workshops.trouble.models import Trouble
from workshops.trouble.queries import one_trouble, troubles_of

pytestmark = pytest.mark.django_db


def page(row: Trouble, more: str = "") -> str:
    return f"/teal-point/trouble/{row.pk}/{more}"


def test_it_tells_what_when_where_who_and_who_stood_there(scene, put, happen, lead) -> None:
    put("Ada", "drill")
    row = happen("19:20", what="cut hand", people=[scene.people["Ada"]]).trouble
    text = lead.get(page(row)).text
    for words in ("Somebody hurt, Drill", "cut hand", "Ada R. from 19:10", "Dov"):
        assert words in text


def test_words_are_added_and_stay_with_name_and_time(happen, lead) -> None:
    row = happen().trouble
    given = {"words": "two stitches, home by ten", "client_key": str(uuid4())}
    for _ in range(2):
        text = lead.post(page(row), given, follow=True).text
    assert "two stitches, home by ten" in text
    assert "Wed 14 Jan, 19:30, Dov" in text
    assert row.additions.count() == 1


def test_empty_words_are_asked_again(happen, lead) -> None:
    answer = lead.post(page(happen().trouble), {"words": "", "client_key": str(uuid4())})
    assert answer.status_code == 422


def test_injuries_are_for_those_who_may_see_what_is_private(happen, shop) -> None:
    hurt, near = happen().trouble, happen(kind=Trouble.Kind.NEAR_MISS).trouble
    assert list(troubles_of(shop, {Permission.RUN_NIGHT})) == [near]
    assert one_trouble(shop, hurt.pk, {Permission.RUN_NIGHT}) is None
    assert set(troubles_of(shop, {Permission.SEE_PRIVATE})) == {hurt, near}


@pytest.mark.parametrize("who", ["volunteer", "authoriser", "storekeeper", "reader"])
def test_nobody_but_leads_opens_the_list_or_an_incident(happen, client_of, who, request) -> None:
    row, client = happen().trouble, client_of(request.getfixturevalue(who))
    assert client.get("/teal-point/trouble/").status_code == 403
    assert client.get(page(row)).status_code == 403


def test_an_authoriser_who_may_bar_does_not_learn_of_an_injury(
    happen, authoriser, client_of
) -> None:
    answer = client_of(authoriser).post(page(happen().trouble, "see-lead/"))
    assert answer.status_code == 404


def test_the_list_shows_the_latest_first_and_says_what_is_closed(happen, lead) -> None:
    happen("18:40", kind=Trouble.Kind.NEAR_MISS, what="key flew")
    happen("19:20")
    text = lead.get("/teal-point/trouble/").text
    assert text.index("Somebody hurt, Drill") < text.index("key flew")
    assert "station closed" in text


def test_an_empty_list_says_what_to_do(scene, lead) -> None:
    assert "A near miss is worth a line" in lead.get("/teal-point/trouble/").text


def test_to_see_a_lead_is_offered_only_where_the_club_says_so(
    scene, shop, happen, lead, coordinator
) -> None:
    make_sign_off(scene.people["Dee"], scene.drill, Level.ALONE)
    row = happen().trouble
    assert "sees a lead" not in lead.get(page(row)).text
    assert "rules do not say that" in lead.post(page(row, "see-lead/"), follow=True).text
    set_rule(
        shop=shop, key="see_lead_after_injury", value=True, decided_by="Board", source="minutes",
        decided_on=date(2026, 1, 2), by=coordinator,
    )  # fmt: skip
    assert "Who works alone sees a lead" in lead.get(page(row)).text
    assert (
        "Beside a lead from now on: Dee R." in lead.post(page(row, "see-lead/"), follow=True).text
    )
    assert Bar.objects.get().only_with_a_lead
