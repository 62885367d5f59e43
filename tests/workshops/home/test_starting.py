"""Setting up an empty club: all of it or nothing, and every refusal names its field."""

from __future__ import annotations

from io import StringIO
from typing import Any

import pytest
from django.core.management import CommandError, call_command
from django.urls import get_resolver

from inventory.places.models import Shop
from workshops.access.models import Membership, User
from workshops.club.models import Club
from workshops.home import starting

pytestmark = pytest.mark.django_db

ANSWERS = {
    "club": "Ice Club", "shop": "Teal Point", "time_zone": "Europe/Oslo", "units": "mm",
    "coordinator": "carla", "password": "larch-and-sedge-9",
}  # fmt: skip


def start(**changed: Any) -> str:
    out = StringIO()
    call_command("start", no_input=True, stdout=out, **(ANSWERS | changed))
    return out.getvalue()


def test_a_club_starts_with_a_shop_and_a_coordinator_who_can_sign_in() -> None:
    assert "Teal Point is ready" in start()
    shop = Shop.objects.get()
    assert (shop.slug, shop.time_zone, shop.units, shop.paper_size) == (
        "teal-point", "Europe/Oslo", "mm", "a4",
    )  # fmt: skip
    assert Club.objects.get(shop=shop).name == "Ice Club"
    assert Membership.objects.get(shop=shop).role == "coordinator"
    assert User.objects.get().check_password("larch-and-sedge-9")


@pytest.mark.parametrize(
    ("key", "answer", "says"),
    [
        ("club", "", "Write the club's name"),
        ("shop", "!!", "Write the shop's name"),
        ("shop", "Sign in", "address of another page"),
        ("time_zone", "Central", "write one like America/Chicago"),
        ("units", "feet", "Write in for inches"),
        ("coordinator", "c arla", "--coordinator"),
        ("password", "12345678", "--password"),
    ],
)
def test_an_answer_that_cannot_be_used_is_named_and_nothing_is_written(
    key: str, answer: str, says: str
) -> None:
    with pytest.raises(CommandError) as refused:
        start(**{key: answer})
    assert says in str(refused.value)
    assert str(refused.value).startswith("--" + key.replace("_", "-"))
    assert not (Shop.objects.exists())
    assert not (User.objects.exists())
    assert not (Club.objects.exists())


def test_a_second_shop_of_the_same_name_is_refused() -> None:
    start()
    with pytest.raises(CommandError, match="Teal Point"):
        start(coordinator="dov")


def test_nothing_is_half_written_when_the_last_step_fails(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(**fields: Any) -> None:
        raise RuntimeError("the disk is full")

    monkeypatch.setattr(starting.access, "add_member", broken)
    with pytest.raises(RuntimeError):
        starting.start_club(**ANSWERS)
    assert not (Shop.objects.exists())
    assert not (Club.objects.exists())


def test_a_wrong_answer_is_asked_again(monkeypatch: pytest.MonkeyPatch) -> None:
    typed = iter(["Ice Club", "", "Mars", "Europe/Oslo", "", "carla"])
    monkeypatch.setattr("builtins.input", lambda question: next(typed))
    secret = iter(["123", "larch-and-sedge-9"])
    monkeypatch.setattr("workshops.home.management.commands.start.getpass", lambda q: next(secret))
    errors = StringIO()
    call_command("start", stdout=StringIO(), stderr=errors)
    assert "“Mars” is not a time zone" in errors.getvalue()
    assert Shop.objects.get().name == "The shop"


def test_an_answer_broken_off_writes_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    def gone(question: str) -> str:
        raise EOFError

    monkeypatch.setattr("builtins.input", gone)
    with pytest.raises(CommandError, match="nothing was written"):
        call_command("start", stdout=StringIO())


def test_no_shop_can_take_the_address_of_another_page() -> None:
    first = {str(pattern.pattern).partition("/")[0] for pattern in flat(get_resolver())}
    fixed = {word for word in first if word and "<" not in word}
    assert fixed <= starting.TAKEN_WORDS


def flat(resolver: Any, prefix: str = "") -> Any:
    """The outermost patterns, those of prefixless includes opened."""
    for part in resolver.url_patterns:
        if hasattr(part, "url_patterns") and not str(part.pattern):
            yield from flat(part)
        else:
            yield part
