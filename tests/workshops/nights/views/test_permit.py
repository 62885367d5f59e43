"""The hot-work permit: a named watch, and a signature that cannot come early."""

from __future__ import annotations

from workshops.nights.models import HotWorkPermit


def opened(client, url: str, person: object) -> str:
    return client.post(url, {"watcher": person}, follow=True).content.decode()


def signed(client, url: str, spark: str = "19:30", name: str = "Cy Reed") -> str:
    given = {"last_spark": spark, "signed_by": name}
    return client.post(url, given, follow=True).content.decode()


def test_the_permit_is_opened_with_a_named_watch(scene, lead, page) -> None:
    shown = opened(lead, page("permit"), scene.people["Cy"].pk)
    assert "When does the fire watch end?" in shown
    assert "18:00 by Dov" in shown
    assert "60 minutes" in shown


def test_a_watch_without_the_sign_off_is_refused_with_the_reason(scene, lead, page) -> None:
    assert "Bo R. has no sign-off for Fire watch." in opened(
        lead, page("permit"), scene.people["Bo"].pk
    )
    assert not HotWorkPermit.objects.exists()


def test_nobody_chosen_is_told_at_the_field(scene, lead, page) -> None:
    answer = lead.post(page("permit"), {"watcher": ""})
    assert answer.status_code == 422
    assert "This field is required" in answer.content.decode()


def test_the_watch_cannot_be_signed_before_it_is_over(scene, lead, page, clock) -> None:
    opened(lead, page("permit"), scene.people["Cy"].pk)
    clock.shift(2 * 3600)
    assert "The watch lasts until 20:30" in signed(lead, page("permit"))
    clock.shift(1800)
    assert "20:30, signed Cy Reed" in signed(lead, page("permit"))


def test_a_time_of_the_morning_does_not_end_the_watch(scene, lead, page, clock) -> None:
    opened(lead, page("permit"), scene.people["Cy"].pk)
    assert "doors opened at 18:00" in signed(lead, page("permit"), spark="07:30")


def test_the_watch_is_not_signed_twice(scene, lead, page, clock) -> None:
    opened(lead, page("permit"), scene.people["Cy"].pk)
    clock.shift(3 * 3600)
    signed(lead, page("permit"))
    signed(lead, page("permit"), spark="18:05", name="Bo Reed")
    assert HotWorkPermit.objects.get().watch_signed_by == "Cy Reed"


def test_only_whoever_runs_the_night_opens_it(scene, guest, stranger, client_of, page) -> None:
    given = {"watcher": scene.people["Cy"].pk}
    assert guest.post(page("permit"), given).status_code == 403
    assert client_of(stranger).post(page("permit"), given).status_code == 404
    assert not HotWorkPermit.objects.exists()
