"""When did the ice go? Noted once, never in the time to come."""

from __future__ import annotations

from workshops.season.models import IceOut

GONE = {"water": "Heron Bay", "went_on": "2025-04-02"}


def test_an_ice_out_is_noted_and_listed(shop, clock, boss, at) -> None:
    shown = boss.post(at("ice"), GONE, follow=True).content.decode()
    assert "Noted: Heron Bay, 2025-04-02." in shown
    assert "2 April 2025" in shown


def test_the_same_twice_is_noted_once(shop, clock, boss, at) -> None:
    for _ in range(2):
        boss.post(at("ice"), GONE)
    assert IceOut.objects.count() == 1


def test_a_day_to_come_is_refused(shop, clock, boss, at) -> None:
    answer = boss.post(at("ice"), GONE | {"went_on": "2026-04-02"})
    assert answer.status_code == 422
    assert "That day has not come yet" in answer.content.decode()
    assert not IceOut.objects.exists()


def test_a_day_nobody_can_read_is_refused(shop, clock, boss, at) -> None:
    assert (
        "Enter a valid date" in boss.post(at("ice"), GONE | {"went_on": "spring"}).content.decode()
    )


def test_ice_of_another_shop_is_not_listed(shop, other_shop, clock, boss, at) -> None:
    IceOut.objects.create(shop=other_shop, water="Mallow Mere", went_on="2025-04-02")
    answer = boss.get(at("ice"))
    assert answer.status_code == 200
    assert "Mallow Mere" not in answer.content.decode()


def test_only_the_coordinator_notes_it(shop, clock, duty_lead, stranger, client_of, at) -> None:
    assert client_of(duty_lead).post(at("ice"), GONE).status_code == 403
    assert client_of(stranger).post(at("ice"), GONE).status_code == 404
    assert not IceOut.objects.exists()
