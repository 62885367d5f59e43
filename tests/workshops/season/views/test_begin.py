"""When does the winter run? Begun once, its days in order."""

from __future__ import annotations

import pytest

from tests.factories import make_winter
from workshops.season.models import Winter

WINTER = {
    "name": "2026–27", "starts_on": "2026-11-01", "ends_on": "2027-03-31",
    "ready_from": "2027-03-01", "ready_by": "2027-03-15",
}  # fmt: skip


def test_a_winter_begins_and_its_target_comes_next(shop, boss, at) -> None:
    answer = boss.post(at("begin"), WINTER, follow=True)
    assert answer.redirect_chain[-1][0] == at("target")
    assert "The winter 2026–27 has begun. Set its target next." in answer.content.decode()


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"ends_on": "2026-10-01"}, "starts before it ends"),
        ({"ready_by": "2027-02-01"}, "ready-by band"),
        ({"starts_on": "autumn"}, "Enter a valid date"),
        ({"name": ""}, "This field is required"),
    ],
)
def test_a_winter_that_cannot_be_is_refused_in_words(shop, boss, at, given, told) -> None:
    answer = boss.post(at("begin"), WINTER | given)
    assert answer.status_code == 422
    assert told in answer.content.decode()
    assert not Winter.objects.exists()


def test_a_name_that_is_taken_is_told(shop, boss, at) -> None:
    make_winter(shop, name="2026–27")
    shown = boss.post(at("begin"), WINTER).content.decode()
    assert "There is already a winter called 2026–27." in shown


def test_only_the_coordinator_begins_one(shop, reader, stranger, client_of, at) -> None:
    assert client_of(reader).post(at("begin"), WINTER).status_code == 403
    assert client_of(stranger).post(at("begin"), WINTER).status_code == 404
    assert not Winter.objects.exists()
