"""One's own pages: nights, sign-offs, hours, details, the calendar's address."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from tests.factories import make_minor, make_night, make_sign_off, make_sign_up
from workshops.mine.models import Feed
from workshops.nights.actions import cancel_night, sign_in, sign_out
from workshops.nights.models import Night, SignUp
from workshops.stations.models import Level

pytestmark = pytest.mark.django_db

MY = "/teal-point/my/"
TONIGHT = f"{MY}nights/2026-01-14/"


def shown(client, url: str = MY) -> str:
    return client.get(url).content.decode()


def sent(client, url: str = TONIGHT, **given) -> str:
    return client.post(url, given, follow=True).content.decode()


def answer_of(person) -> SignUp:
    return SignUp.objects.get(person=person, night__date=date(2026, 1, 14))


def test_one_press_answers_and_is_told_back(own, dee) -> None:
    said = sent(own, answer="no")
    assert "Wednesday 14 January: Dee is not coming." in said
    assert answer_of(dee).answer == "no"


def test_times_guests_and_a_note_are_kept_when_the_answer_changes_by_one_press(own, dee) -> None:
    sent(own, full="yes", answer="yes", arrives="18:30", leaves="", guests="2", note="has a truck")
    sent(own, answer="maybe")
    row = answer_of(dee)
    assert (row.answer, str(row.arrives), row.guests) == ("maybe", "18:30:00", 2)
    assert "with 2 guests has a truck" in shown(own)


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"answer": "yes", "arrives": "20:00", "leaves": "19:00"}, "would leave before arriving"),
        ({"answer": "yes", "guests": "40"}, "less than or equal to 8"),
        ({"answer": "never"}, "Select a valid choice"),
    ],
)
def test_an_answer_that_cannot_be_is_refused_in_words(own, given, told) -> None:
    answer = own.post(TONIGHT, {"full": "yes", **given})
    assert answer.status_code == 422
    assert told in answer.content.decode()


def test_a_cancelled_night_says_so_and_takes_no_answer(own, scene, dee) -> None:
    cancel_night(night=scene.night, reason="snow", at=scene.at("16:00"))
    assert "snow" in shown(own)
    assert "This night is cancelled: snow" in shown(own, TONIGHT)
    assert own.post(TONIGHT, {"answer": "no"}).status_code == 422
    assert answer_of(dee).answer == "yes"


def test_a_night_behind_us_is_shown_and_cannot_be_answered(own, scene, dee, clock) -> None:
    past = make_night(scene.shop, date=date(2026, 1, 7))
    sign_out_later = sign_in(night=past, person=dee, at=scene.at("18:00") - timedelta(days=7))
    sign_out(night=past, person=dee, at=sign_out_later.line.in_at + timedelta(hours=2))
    assert "was there" in shown(own)
    assert own.post(f"{MY}nights/2026-01-07/", {"answer": "no"}).status_code == 404
    assert "2:00" in shown(own, f"{MY}hours/")


def test_a_guardian_answers_for_their_child_and_for_nobody_else(own, scene, dee) -> None:
    mina = make_minor(scene.shop, dee)
    assert "When does Mina come?" in shown(own, f"{MY}?for={mina.pk}")
    assert "Mina is coming" in sent(own, answer="yes", **{"for": mina.pk})
    assert answer_of(mina).answer == "yes"
    other = scene.people["Ada"]
    assert own.get(f"{MY}?for={other.pk}").status_code == 404
    assert own.post(TONIGHT, {"answer": "no", "for": other.pk}).status_code == 404
    assert answer_of(other).answer == "yes"


def test_a_child_of_age_answers_alone(own, scene, dee) -> None:
    grown = make_minor(scene.shop, dee, born_on=date(2008, 1, 14))
    assert own.get(f"{MY}?for={grown.pk}").status_code == 404


def test_sign_offs_say_until_when_and_what_would_mend_the_rest(own, scene, dee) -> None:
    make_sign_off(dee, scene.drill, Level.ALONE, valid_until=date(2026, 3, 1))
    page = shown(own, f"{MY}sign-offs/")
    assert "I may work at" in page
    assert "until 1 Mar 2026" in page
    assert "no sign-off for Weld" in page


def test_details_are_mine_to_change_and_nothing_else_is(own, dee) -> None:
    given = {"first_name": "Dee", "last_name": "Reed", "phone": "555 0100", "no_dust": "on"}
    given |= {"email": "dee@example.org", "emergency_contact": "Ada, 555 0101"}
    said = sent(own, f"{MY}details/", **given, is_active="", note="x", born_on="1990-01-01")
    dee.refresh_from_db()
    assert "Your details are kept." in said
    assert (dee.phone, dee.no_dust, dee.is_active, dee.note, dee.born_on) == (
        "555 0100", True, True, "", None,
    )  # fmt: skip
    assert dee.changed_by == dee.user


def test_details_without_a_name_are_refused_and_the_row_stays(own, dee) -> None:
    answer = own.post(f"{MY}details/", {"first_name": " "})
    assert answer.status_code == 422
    dee.refresh_from_db()
    assert dee.first_name == "Dee"


def test_the_calendar_has_an_address_that_can_be_renewed(own, dee) -> None:
    page = shown(own, f"{MY}calendar/")
    before = Feed.objects.get().secret
    assert f"http://testserver/calendar/{before}.ics" in page
    sent(own, f"{MY}calendar/", renew="yes")
    assert Feed.objects.get().secret != before
    sent(own, f"{MY}calendar/", has_all_nights="on")
    assert Feed.objects.get().has_all_nights


def test_an_account_that_is_nobodys_is_told_what_to_do(coordinator, client_of, scene) -> None:
    page = shown(client_of(coordinator))
    assert "Whose account is this?" in page


def test_my_nights_take_the_same_queries_for_many_nights(
    own, scene, dee, django_assert_num_queries
) -> None:
    def count() -> int:
        with django_assert_num_queries(9):
            shown(own)
        return Night.objects.count()

    count()
    for day in range(15, 29):
        make_sign_up(make_night(scene.shop, date=date(2026, 1, day)), dee)
    assert count() == 15


def test_a_night_of_another_shop_is_not_found(own, other_shop) -> None:
    make_night(other_shop, date=date(2026, 1, 21))
    assert own.get(f"{MY}nights/2026-01-21/").status_code == 404
