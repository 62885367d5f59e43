"""Nights on the calendar, who means to come, what the winter wants."""

from __future__ import annotations

from datetime import date, time

import pytest

from tests.factories import make_item, make_night, make_person
from workshops.nights import actions
from workshops.nights.models import Aim, Night
from workshops.nights.refusals import NightRefused

DAY = date(2026, 2, 4)


def add(shop, **fields) -> Night:
    usual = {"on": DAY, "doors": time(18), "stop": time(20, 30), "lock_up": time(21)}
    return actions.add_night(shop=shop, **(usual | fields))


def spans(night: Night) -> list[str]:
    return [str(block) for block in night.blocks.all()]


def test_an_evening_gets_three_blocks_after_the_briefing_and_one_break(shop) -> None:
    assert spans(add(shop)) == ["18:30–19:06", "19:16–19:52", "19:52–20:28"]


def test_a_whole_day_gets_four_blocks(shop) -> None:
    night = add(shop, doors=time(9), stop=time(15), lock_up=time(16))
    assert spans(night) == ["09:30–10:50", "10:50–12:10", "12:20–13:40", "13:40–15:00"]


def test_blocks_may_be_given(shop) -> None:
    night = add(shop, blocks=[(time(18, 30), time(19)), (time(19, 15), time(20))])
    assert spans(night) == ["18:30–19:00", "19:15–20:00"]


def test_a_second_night_on_one_day_is_refused(shop) -> None:
    add(shop)
    with pytest.raises(NightRefused, match="already a night on 4 February"):
        add(shop)


@pytest.mark.parametrize("times", [{"stop": time(17)}, {"lock_up": time(20)}])
def test_times_out_of_order_are_refused_in_words(shop, times) -> None:
    with pytest.raises(NightRefused, match="doors open before the stop"):
        add(shop, **times)


def test_a_night_with_no_time_to_work_is_refused(shop) -> None:
    with pytest.raises(NightRefused, match="no time to work between 18:00 and 18:35"):
        add(shop, stop=time(18, 35))
    assert not Night.objects.exists()


def test_a_cancelled_night_keeps_its_reason(scene) -> None:
    night = actions.cancel_night(night=scene.night, reason=" snow ")
    assert (night.status, night.note) == (Night.Status.CANCELLED, "snow")


def test_cancelling_without_a_reason_is_refused(scene) -> None:
    with pytest.raises(NightRefused, match="Say why"):
        actions.cancel_night(night=scene.night, reason="  ")


def test_a_night_that_is_over_cannot_be_cancelled(shop) -> None:
    night = make_night(shop, status=Night.Status.CLOSED)
    with pytest.raises(NightRefused, match="over"):
        actions.cancel_night(night=night, reason="snow")


def test_a_night_is_not_cancelled_while_somebody_is_in_the_building(scene) -> None:
    ada = scene.people["Ada"]
    actions.sign_in(night=scene.night, person=ada, at=scene.at("18:00"))
    with pytest.raises(NightRefused, match="still on the roll: Ada"):
        actions.cancel_night(night=scene.night, reason="no heat")


def test_a_later_answer_replaces_an_earlier_one(scene) -> None:
    dee, at = scene.people["Dee"], scene.at("17:40")
    row = actions.sign_up(night=scene.night, person=dee, answer="no", at=at)
    assert (row.answer, row.answered_at) == ("no", at)
    assert scene.night.sign_ups.filter(person=dee).count() == 1


def test_somebody_of_another_shop_cannot_answer(scene, other_shop) -> None:
    with pytest.raises(NightRefused, match="not on this shop's list"):
        actions.sign_up(
            night=scene.night, person=make_person(other_shop), answer="yes", at=scene.at("17:00")
        )


def test_leaving_before_arriving_is_refused(scene) -> None:
    with pytest.raises(NightRefused, match="leave before arriving"):
        actions.sign_up(
            night=scene.night, person=scene.people["Dee"], answer="yes", at=scene.at("17:00"),
            arrives=time(20), leaves=time(19),
        )  # fmt: skip


def test_nobody_answers_for_a_night_that_is_cancelled(scene) -> None:
    actions.cancel_night(night=scene.night, reason="snow")
    with pytest.raises(NightRefused, match="is cancelled"):
        actions.sign_up(
            night=scene.night, person=scene.people["Dee"], answer="yes", at=scene.at("17:00")
        )


def test_new_aims_replace_the_old_ones(shop) -> None:
    first, second = make_item(shop), make_item(shop)
    actions.set_aims(shop=shop, wanted={first.pk: 10, second.pk: 5})
    actions.set_aims(shop=shop, wanted={second.pk: 7})
    assert list(Aim.objects.values_list("item", "wanted")) == [(second.pk, 7)]


def test_aims_of_another_shop_stay(shop, other_shop) -> None:
    there = make_item(other_shop)
    actions.set_aims(shop=other_shop, wanted={there.pk: 3})
    actions.set_aims(shop=shop, wanted={})
    assert Aim.objects.get().item == there
