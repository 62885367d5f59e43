"""Warnings, each sent once, and proposals taken."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest
from django.core import mail
from django.core.management import call_command

from inventory.places.models import Shop
from tests.factories import TODAY, make_bar, make_sign_off
from tests.workshops.training.conftest import ready
from workshops.nights.models import TrainingDate
from workshops.people.models import Person
from workshops.stations.models import Level, Station
from workshops.training.actions import take_pairs, warn_lapses
from workshops.training.models import LapseWarning
from workshops.training.queries import timetable_of


def ends_in(shop: Shop, drill: Station, days: int, **fields: Any) -> Person:
    """Somebody whose sign-off counts for so many days more."""
    person = ready(shop, "Bo", email="bo@example.org", **fields)
    make_sign_off(person, drill, valid_until=TODAY + timedelta(days=days))
    return person


def test_the_person_and_the_authorisers_are_told_in_one_message_each(
    shop: Shop, drill: Station, arno: Person
):
    ends_in(shop, drill, 20)
    warn_lapses(shop=shop)
    sent = {message.to[0]: message.body for message in mail.outbox}
    assert set(sent) == {"bo@example.org", "arno@example.org"}
    assert "  - Drill, last day 3 Feb 2026" in sent["bo@example.org"]
    assert "  - Bo Reed: Drill, last day 3 Feb 2026" in sent["arno@example.org"]


def test_each_warning_goes_out_once(shop: Shop, drill: Station, arno: Person):
    ends_in(shop, drill, 20)
    assert len(warn_lapses(shop=shop)) == 2
    assert warn_lapses(shop=shop) == []
    assert len(mail.outbox) == 2


@pytest.mark.parametrize(
    ("days", "stages"), [(21, []), (20, ["first"]), (7, ["first"]), (6, ["last"]), (-1, [])]
)
def test_three_weeks_and_one_week_ahead(shop: Shop, drill: Station, days: int, stages: list[str]):
    ends_in(shop, drill, days)
    assert [row.stage for row in warn_lapses(shop=shop)] == stages


def test_the_second_warning_comes_a_week_ahead(shop: Shop, drill: Station, clock: Any):
    ends_in(shop, drill, 20)
    warn_lapses(shop=shop)
    clock.shift(timedelta(days=14))
    assert [row.stage for row in warn_lapses(shop=shop)] == ["last"]


def test_who_has_no_address_is_noted_to_be_told(shop: Shop, drill: Station):
    person = ready(shop, "Bo")
    make_sign_off(person, drill, valid_until=TODAY)
    (row,) = warn_lapses(shop=shop)
    assert (row.sent_to, row.has_email, mail.outbox) == (person, False, [])


def test_a_message_that_cannot_be_sent_goes_with_the_next_run(
    shop: Shop, drill: Station, monkeypatch: pytest.MonkeyPatch
):
    ends_in(shop, drill, 3)
    with monkeypatch.context() as broken:
        broken.setattr("workshops.training.actions.send_mail", _no_post)
        with pytest.raises(OSError, match="no post"):
            warn_lapses(shop=shop)
    assert not LapseWarning.objects.exists()
    assert len(warn_lapses(shop=shop)) == 1


def _no_post(*_args: object) -> None:
    raise OSError("no post today")


def test_the_command_warns_in_every_shop_and_says_how_many(
    shop: Shop, drill: Station, arno: Person, capsys: pytest.CaptureFixture[str]
):
    ends_in(shop, drill, 3)
    call_command("warn_lapses")
    said = capsys.readouterr().out
    assert f"{shop}: 2 people to warn of 1 sign-offs, 0 of them without an e-mail address." in said


def test_proposals_are_put_on_the_timetable_and_asked_of_the_gate_anew(
    shop: Shop, drill: Station, ada: Person, eli: Person, say_yes: Any
):
    flo = ready(shop, "Flo")
    make_sign_off(flo, drill, Level.WITH_A_LEAD)
    say_yes(ada, eli, flo)
    pairs = timetable_of(shop, TODAY).pairs
    make_bar(flo)
    rows, refused = take_pairs(pairs=pairs, by=None)
    assert [row.learner for row in rows] == [eli]
    assert "Flo R. is barred" in refused[0]
    assert TrainingDate.objects.count() == 1
